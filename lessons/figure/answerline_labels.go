package figure

import (
	"cmp"
	"math"
	"slices"
	"strconv"
	"strings"
)

// tag is a label above the axis with what it belongs to. Marks that stand at one
// place share a tag, with a line for each.
type tag struct {
	x     float64
	lines []string
	yours bool // the last line is that of the learner's own answer
	box   Box  // once it is placed; y is measured upwards from the axis
}

// tagGap is kept free around a label.
const tagGap = 6.0

// tags makes the labels of the learner's answer and of the slips.
func (d *answerLine) tags() []tag {
	var out []tag
	if !math.IsNaN(d.yours) {
		t := "yours"
		if d.off(d.yours) != 0 || !d.a.Open {
			t += " " + d.text(d.yours)
		}
		out = append(out, tag{x: d.place(d.yours), lines: []string{t}, yours: true})
	}
	most := d.a.Width - 2*margin
	for _, m := range d.marks {
		label := m.Label
		if m.Count > 1 {
			label += " · " + strconv.Itoa(m.Count)
		}
		if d.off(m.Value) != 0 {
			label += ", " + d.text(m.Value)
		}
		x := d.place(m.Value)
		wrapped := wrap(label, lineText, min(most, 190))
		if len(out) > 0 && out[0].yours && math.Abs(out[0].x-x) < 4 {
			out[0].lines = append(wrapped, out[0].lines...)
			continue
		}
		if n := len(out); n > 0 && !out[n-1].yours && math.Abs(out[n-1].x-x) < 4 {
			out[n-1].lines = append(out[n-1].lines, wrapped...)
			continue
		}
		out = append(out, tag{x: x, lines: wrapped})
	}
	return out
}

func (t *tag) width() float64 {
	w := 0.0
	for i, l := range t.lines {
		w = max(w, width(l, t.own(i))*lineText)
	}
	return w + 1
}

// own tells whether a line is that of the learner's own answer.
func (t *tag) own(line int) bool { return t.yours && line == len(t.lines)-1 }

// arrange finds a place for each tag, such that no label covers another one or
// the leader of another one. Several orders are tried; the one that needs the least height
// wins. It gives the height used, and false when there is no such arrangement.
func (d *answerLine) arrange(tags []tag) (float64, bool) {
	if len(tags) == 0 {
		return 0, true
	}
	middle := d.a.Width / 2
	key := func(order int, t *tag) float64 {
		switch order {
		case 0:
			return t.x
		case 1:
			return -t.x
		case 2:
			return math.Abs(t.x - middle)
		}
		return -math.Abs(t.x - middle)
	}
	best, found := math.Inf(1), false
	boxes := make([]Box, len(tags))
	index := make([]int, len(tags))
	for order := range 8 { // four orders with the learner's own label first, so that it stands next to its mark; four without
		for i := range index {
			index[i] = i
		}
		slices.SortStableFunc(index, func(a, b int) int {
			if order < 4 && tags[a].yours != tags[b].yours {
				if tags[a].yours {
					return -1
				}
				return 1
			}
			return cmp.Compare(key(order%4, &tags[a]), key(order%4, &tags[b]))
		})
		height, ok := d.try(tags, index, min(best, mostRows*lineRow))
		if ok && height < best {
			best, found = height, true
			for i := range tags {
				boxes[i] = tags[i].box
			}
		}
		if best <= lineRow*2 || found && order >= 3 {
			break
		}
	}
	for i := range tags {
		tags[i].box = boxes[i]
	}
	return best, found
}

// try places the tags in one order, each as low as it goes: at first only where it
// covers no mark that is still to get its leader, and, where there is no such place, anywhere.
func (d *answerLine) try(tags []tag, index []int, limit float64) (float64, bool) {
	top := 0.0
	for n, i := range index {
		t := &tags[i]
		if !d.put(tags, index, n, limit, true) && !d.put(tags, index, n, limit, false) {
			return 0, false
		}
		top = max(top, t.box.Y1)
	}
	return top, true
}

// put places the n-th tag.
func (d *answerLine) put(tags []tag, index []int, n int, limit float64, spare bool) bool {
	t := &tags[index[n]]
	w, h := t.width(), lineRow*float64(len(t.lines))
	for low := 0.0; low+h <= limit; low += lineRow {
	next:
		for _, off := range [...]float64{-w / 2, -w + 7, -7, -w * 3 / 4, -w / 4, 4, -w - 4} {
			x := min(max(t.x+off, margin), d.a.Width-margin-w)
			if low > 0 && (t.x < x || t.x > x+w) { // a leader ends at its label
				continue
			}
			box := Box{x, low, x + w, low + h}
			if !d.free(tags, index[:n], t.x, box) {
				continue
			}
			if spare {
				for _, j := range index[n+1:] {
					if o := tags[j].x; o > box.X0-tagGap && o < box.X1+tagGap {
						continue next
					}
				}
			}
			t.box = box
			return true
		}
	}
	return false
}

// free tells whether a label and its leader are clear of those placed before it.
func (d *answerLine) free(tags []tag, placed []int, x float64, box Box) bool {
	for _, i := range placed {
		o := tags[i].box
		wide := Box{o.X0 - 2*tagGap, o.Y0, o.X1 + 2*tagGap, o.Y1}
		if wide.hits(box) {
			return false
		}
		if x > o.X0-tagGap && x < o.X1+tagGap && o.Y0 < box.Y0 { // my leader through its label
			return false
		}
		if ox := tags[i].x; ox > box.X0-tagGap && ox < box.X1+tagGap && box.Y0 < o.Y0 { // its leader through mine
			return false
		}
	}
	return true
}

// numbered gives up the leaders: the slips get numbers above their marks, and the
// labels follow below, one a line. It gives the height above the axis and the list.
func (d *answerLine) numbered(tags []tag) (float64, []string) {
	var list []string
	top, count := 0.0, 0
	for i := range tags {
		t := &tags[i]
		if !t.yours {
			count++
			n := strconv.Itoa(count)
			list = append(list, n+"  "+strings.Join(t.lines, " "))
			t.lines = []string{n}
		} else if last := len(t.lines) - 1; last > 0 {
			list = append(list, "yours: "+strings.Join(t.lines[:last], " "))
			t.lines = t.lines[last:]
		}
		w := t.width()
		x := min(max(t.x-w/2, margin), d.a.Width-margin-w)
		for low := 0.0; ; low += lineRow {
			t.box = Box{x, low, x + w, low + lineRow}
			clear := true
			for j := range tags[:i] {
				o := tags[j].box
				clear = clear && !(Box{o.X0 - 2, o.Y0, o.X1 + 2, o.Y1}).hits(t.box)
			}
			if clear {
				break
			}
		}
		top = max(top, t.box.Y1)
	}
	return top, list
}
