package figure

import "fullyon/engine/si"

func at(v float64) *float64 { return &v }

// lineExamples are answer lines to look at: the usual one, far slips, an open end,
// temperatures, a question not closed, and a crowd of slips.
func lineExamples() []Line {
	mw, c, ohm, ratio := si.MustUnit("mW"), si.MustUnit("°C"), si.MustUnit("ohm"), si.Unit{}
	heat := []Mark{
		{Label: "I × R, not I² × R", Value: 0.060}, {Label: "row at 10 V", Value: 0.098},
		{Label: "typical, not max", Value: 0.108}, {Label: "cold resistance in a hot part", Value: 0.120, Yours: true},
	}
	crowd := []Mark{}
	for i, s := range []string{"typical, not max", "row at 10 V", "cold part", "twice", "half", "square forgotten", "root forgotten", "min for max", "wrong column & row", "prefix"} {
		crowd = append(crowd, Mark{Label: s, Value: 0.1 + 0.004*float64(i), Count: i})
	}
	return []Line{
		{Asked: mw, Low: at(0.132), High: at(0.140), Key: at(0.136), Yours: at(0.120), Slips: heat, Open: true},
		{Asked: mw, Low: at(0.132), High: at(0.140), Key: at(0.136), Yours: at(0.120), Slips: heat},
		{Asked: mw, Low: at(0.132), High: at(0.140), Key: at(0.136), Yours: at(136), Open: true,
			Slips: append([]Mark{{Label: "milli forgotten", Value: 136, Yours: true}, {Label: "micro for milli", Value: 136e-6}}, heat...)},
		{Asked: mw, Low: at(0.132), High: at(0.140), Key: at(0.136), Yours: at(1360), Open: true, Slips: heat},
		{Asked: ohm, Low: at(120), Key: at(150), Yours: at(180), Open: true, Slips: []Mark{{Label: "recommended, not maximum current", Value: 250}, {Label: "pin resistance forgotten", Value: 100}}},
		{Asked: ohm, High: at(4700), Yours: at(10000), Open: true, Slips: []Mark{{Label: "one decade", Value: 470}}},
		{Asked: c, Low: at(46.1), High: at(48.1), Key: at(47.1), Yours: at(320.1), Open: true, Slips: []Mark{{Label: "one round short", Value: 45.8}, {Label: "kelvin for °C", Value: 320.1, Yours: true}, {Label: "ambient forgotten", Value: 12.1}}},
		{Asked: ratio, Low: at(2.3), High: at(2.5), Key: at(2.4), Yours: at(0.42), Open: true, Slips: []Mark{{Label: "upside down", Value: 0.417, Yours: true}}},
		{Asked: mw, Low: at(0.132), High: at(0.140), Key: at(0.136), Yours: at(0.136), Open: true, Slips: crowd},
	}
}
