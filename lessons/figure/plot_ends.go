package figure

import (
	"cmp"
	"math"
	"slices"
)

// ending is the end of one curve, or of several that end at one place.
type ending struct {
	name   string
	series int
	y      float64 // where the curve ends
	at     float64 // where its name stands
}

const (
	endLeader = 14.0 // from the frame to the names
	endPitch  = 14.0
)

// endNames finds the names right of the frame and gives the room that they take.
func (d *plotting) endNames() float64 {
	for i := range d.p.Series {
		s := &d.p.Series[i]
		if len(s.Points) == 0 {
			continue
		}
		v := d.p.Y.in(s.Points[len(s.Points)-1].Y)
		d.ends = append(d.ends, ending{s.Name, i, d.y.at(min(max(v, d.y.min), d.y.max)), 0})
	}
	slices.SortStableFunc(d.ends, func(a, b ending) int { return cmp.Compare(a.y, b.y) })
	joined := d.ends[:0]
	for _, e := range d.ends {
		if n := len(joined); n > 0 && math.Abs(joined[n-1].y-e.y) < 1.5 {
			if joined[n-1].series < e.series {
				joined[n-1].name += ", " + e.name
			} else {
				joined[n-1].name = e.name + ", " + joined[n-1].name
			}
			continue
		}
		joined = append(joined, e)
	}
	d.ends = joined
	wide := 0.0
	for i := range d.ends {
		t := Shape{Text: d.ends[i].name, Size: plotText}
		wide = max(wide, t.measure())
		d.ends[i].at = d.ends[i].y
		if i > 0 {
			d.ends[i].at = max(d.ends[i].at, d.ends[i-1].at+endPitch)
		}
	}
	low := d.y.p0 // no name stands below the frame
	for i := len(d.ends) - 1; i >= 0; i-- {
		d.ends[i].at = min(d.ends[i].at, low)
		low = d.ends[i].at - endPitch
	}
	return endLeader + wide + 6
}

// nameEnds writes the names with their leaders.
func (d *plotting) nameEnds() {
	for _, e := range d.ends {
		run := d.runs[e.series]
		if len(run) == 0 {
			continue
		}
		end := run[len(run)-1]
		d.poly(Pen{Stroke: Soft, Width: 0.8}, end.X, end.Y, d.x.p1+endLeader-4, e.at)
		t := d.label(Ink, plotText, d.x.p1+endLeader, e.at+4, Start, e.name)
		d.seen = append(d.seen, t.box())
	}
}

// upright tells whether a limit stands at one X.
func (l *Limit) upright() bool {
	return l.Upright || len(l.Points) > 1 && l.Points[0].X == l.Points[len(l.Points)-1].X
}
