package lessons

// caution is a stock caution: a title and what to do.
type caution struct{ title, text string }

// cautions are the words that stand wherever work can hurt somebody. A lesson
// names one and may add to it; it cannot leave it out.
var cautions = map[string]caution{
	"mains": {"Mains", "Stop here. Mains can kill, and this course does not teach mains work. Use certified plug-in equipment as its instructions say. " +
		"Fixed wiring is for a licensed or competent person under your local code."},
	"prove-it":      {"Prove it", "Off is not isolated, and isolated is not proved. Somebody competent locks off, proves the tester, tests, and proves the tester again."},
	"stored-energy": {"Stored energy", "Unplugged is not empty. Discharge through a resistor, then measure. Do not open sealed supplies."},
	"battery":       {"Battery", "The label says volts; the short circuit decides amperes. Rings off, fuse first, as near the positive terminal as can be."},
	"heat":          {"Heat", "A MOSFET looks the same at 20 °C and at 120 °C. Measure, do not feel. The tab usually carries the drain's voltage as well."},
	"static":        {"Static", "If you felt it, it was huge. If you did not feel it, it may still have been enough. Ground yourself first, then touch the part."},
	"motion":        {"Motion", "Code can stop a motor; only removing its supply keeps it stopped. Hair, sleeves and fingers stay clear of the shaft."},
	"solder":        {"Solder", "Fume drawn away from your face, eyes covered, hands washed before food, the iron in its stand."},
	"young":         {"Young learners", "A responsible adult who knows these rules is at the bench."},
}

// Caution gives a stock caution by its name: its title and what it says; empty for a
// name that there is not.
func Caution(name string) (title, text string) {
	c := cautions[name]
	return c.title, c.text
}
