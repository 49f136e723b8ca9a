package figure

import (
	"fmt"
	"slices"
)

// thing is something that can lie on a bench.
type thing struct {
	id    string
	label string // under the drawing, at most two short lines
	words string // in the list for those who cannot see it
	draw  func(s *Scene, x, y float64)
}

// BenchThings lists the ids of what can lie on a bench.
func BenchThings() []string {
	out := make([]string, len(things))
	for i := range things {
		out[i] = things[i].id
	}
	return out
}

const (
	cellWide, cellHigh = 108.0, 108.0
	benchColumns       = 3
)

// Bench draws a workbench with the things whose ids are given, in that order. It
// does not say which of them is a hazard.
func Bench(ids []string) (Figure, error) {
	s := newScene("bench", 24*len(ids))
	rows := (len(ids) + benchColumns - 1) / benchColumns
	s.Width, s.Height = 6+benchColumns*cellWide, 6+cellHigh*float64(rows)
	f := Figure{Title: "A workbench", Scene: s, Desc: "What lies on the bench, one thing beside the other; the list names each."}
	s.rect(Pen{Stroke: Soft, Fill: Wash, Width: 1.2}, 2, 2, s.Width-4, s.Height-4)
	for i, id := range ids {
		n := slices.IndexFunc(things, func(t thing) bool { return t.id == id })
		if n < 0 {
			return Figure{}, fmt.Errorf("there is no thing %q for a bench", id)
		}
		t := &things[n]
		x, y := 3+cellWide*(float64(i%benchColumns)+0.5), 3+cellHigh*float64(i/benchColumns)
		t.draw(s, x, y+40)
		for j, line := range lines(t.label, softSize, cellWide-6, false) {
			s.label(Ink, softSize, x, y+80+15*float64(j), Middle, line)
		}
		f.Facts = append(f.Facts, upper(t.words)+".")
	}
	return f, nil
}

// The drawings stand about (x, y), within 46 to each side and 32 up and down.
var things = []thing{
	{"supply", "bench supply", "a bench supply with a current limit", func(s *Scene, x, y float64) {
		s.rect(outline, x-40, y-24, 80, 48)
		s.rect(fineOut, x-33, y-17, 32, 16)
		for i := range 3 {
			s.rect(mark, x-28+8*float64(i), y-13, 4, 8)
		}
		s.circle(fineOut, x+14, y-8, 7)
		s.poly(fine, x+14, y-8, x+18, y-13)
		s.circle(mark, x+8, y+14, 3)
		s.circle(fineOut, x+24, y+14, 3)
	}},
	{"board", "5 V board", "a 5 V board", func(s *Scene, x, y float64) {
		s.rect(outline, x-36, y-22, 72, 44)
		s.rect(fineOut, x-10, y-8, 22, 16)
		for i := range 8 {
			s.circle(fineOut, x-30+8.5*float64(i), y-17, 2)
			s.circle(fineOut, x-30+8.5*float64(i), y+17, 2)
		}
	}},
	{"mat", "mat, earthed", "an antistatic mat with its earth lead", func(s *Scene, x, y float64) {
		s.shape(outline, x-30, y-14, x+42, y-14, x+30, y+18, x-42, y+18)
		s.circle(mark, x+28, y-6, 3)
		s.poly(fine, x+28, y-6, x+40, y+4, x+40, y+20)
		s.poly(fine, x+34, y+20, x+46, y+20)
		s.poly(fine, x+37, y+24, x+43, y+24)
	}},
	{"strap", "wrist strap", "a wrist strap with its coiled lead", func(s *Scene, x, y float64) {
		s.circle(outline, x-20, y, 17)
		s.circle(fineOut, x-20, y, 12)
		s.rect(mark, x-7, y-4, 8, 8)
		for i := range 5 {
			s.circle(fine, x+9+7*float64(i), y, 5)
		}
	}},
	{"breadboard", "breadboard", "a breadboard", func(s *Scene, x, y float64) {
		s.rect(outline, x-42, y-22, 84, 44)
		s.poly(fine, x-42, y, x+42, y)
		for i := range 9 {
			for _, dy := range [4]float64{-15, -8, 8, 15} {
				s.circle(mark, x-34+8.5*float64(i), y+dy, 0.9)
			}
		}
	}},
	{"capacitor", "big capacitor, charged", "a large capacitor that has been charged", func(s *Scene, x, y float64) {
		s.rect(outline, x-18, y-28, 36, 46)
		s.rect(Pen{Stroke: None, Fill: Soft}, x+8, y-28, 10, 46)
		s.poly(fine, x+10, y-5, x+16, y-5)
		s.poly(wire, x-8, y+18, x-8, y+30)
		s.poly(wire, x+8, y+18, x+8, y+26)
	}},
	{"hot_tab", "part with a hot tab", "a part in use, its tab hot", func(s *Scene, x, y float64) {
		s.rect(Pen{Stroke: Ink, Fill: Wash, Width: 1.6}, x-16, y-14, 32, 12)
		s.rect(Pen{Stroke: Ink, Fill: Soft, Width: 1.6}, x-16, y-2, 32, 18)
		for _, dx := range [3]float64{-9, 0, 9} {
			s.poly(wire, x+dx, y+16, x+dx, y+30)
			s.wave(x+dx, y-18)
		}
	}},
	{"iron", "soldering iron, in its stand", "a soldering iron in its stand", func(s *Scene, x, y float64) {
		s.poly(Pen{Stroke: Ink, Width: 7}, x-42, y-18, x-8, y-4)
		s.poly(Pen{Stroke: Ink, Width: 2.5}, x-8, y-4, x+24, y+9)
		for i := range 4 {
			s.circle(fine, x+4+7*float64(i), y+2+3*float64(i), 9)
		}
		s.poly(wire, x+2, y+26, x+44, y+26)
		s.poly(wire, x+22, y+18, x+22, y+26)
	}},
	{"meter", "meter", "a multimeter", func(s *Scene, x, y float64) {
		s.rect(outline, x-20, y-30, 40, 58)
		s.rect(fineOut, x-14, y-24, 28, 14)
		s.circle(fineOut, x, y+4, 9)
		s.poly(fine, x, y+4, x+5, y-2)
		for _, dx := range [3]float64{-11, 0, 11} {
			s.circle(mark, x+dx, y+21, 1.8)
		}
	}},
	{"goggles", "goggles", "goggles", func(s *Scene, x, y float64) {
		s.move(x-34, y-10)
		s.line(x+34, y-10)
		s.curve(x+42, y+14, x+14, y+20, x+6, y+4)
		s.curve(x+3, y-2, x-3, y-2, x-6, y+4)
		s.curve(x-14, y+20, x-42, y+14, x-34, y-10)
		s.close()
		s.stroke(outline)
		s.poly(wire, x-34, y-8, x-44, y-16)
		s.poly(wire, x+34, y-8, x+44, y-16)
	}},
	{"mug", "mug of tea", "a mug of tea", func(s *Scene, x, y float64) {
		s.rect(outline, x-18, y-16, 32, 40)
		s.move(x+14, y-8)
		s.curve(x+32, y-8, x+32, y+16, x+14, y+16)
		s.stroke(wire)
		s.wave(x-8, y-20)
		s.wave(x+3, y-20)
	}},
	{"cracked_flex", "flex, cracked", "a flex whose outer cover is cracked, so that the inner wires show", func(s *Scene, x, y float64) {
		thick := Pen{Stroke: Ink, Width: 8}
		s.poly(thick, x-44, y+14, x-14, y+4)
		s.poly(thick, x+14, y-4, x+44, y-14)
		for _, dy := range [3]float64{-3, 0, 3} {
			s.poly(fine, x-11, y+3+dy, x, y+dy*1.7, x+11, y-3+dy)
		}
	}},
	{"fleece", "fleece jacket", "somebody’s fleece jacket", func(s *Scene, x, y float64) {
		s.shape(outline, x-14, y-26, x-34, y-14, x-42, y+14, x-30, y+18, x-24, y, x-24, y+28, x+24, y+28, x+24, y, x+30, y+18, x+42, y+14, x+34, y-14, x+14, y-26, x, y-16)
		s.poly(fine, x, y-16, x, y+28)
	}},
	{"loose_part", "MOSFET, bare", "a MOSFET out of its packing", func(s *Scene, x, y float64) {
		s.rect(Pen{Stroke: Ink, Fill: Wash, Width: 1.6}, x-14, y-26, 28, 12)
		s.rect(Pen{Stroke: Ink, Fill: Soft, Width: 1.6}, x-14, y-14, 28, 18)
		for _, dx := range [3]float64{-8, 0, 8} {
			s.poly(wire, x+dx, y+4, x+dx, y+28)
		}
	}},
	{"foam", "conductive foam", "parts stuck in conductive foam", func(s *Scene, x, y float64) {
		s.rect(Pen{Stroke: Ink, Fill: Soft, Width: 1.4}, x-38, y+8, 76, 18)
		for _, dx := range [3]float64{-24, 0, 24} {
			s.rect(outline, x+dx-7, y-18, 14, 16)
			for _, d := range [3]float64{-4, 0, 4} {
				s.poly(fine, x+dx+d, y-2, x+dx+d, y+8)
			}
		}
	}},
	{"metal_watch", "metal watch, on the wrist", "a metal watch on the wrist of whoever works", func(s *Scene, x, y float64) {
		s.rect(Pen{Stroke: Ink, Fill: Wash, Width: 1.4}, x-9, y-30, 18, 60)
		s.circle(outline, x, y, 16)
		s.poly(wire, x, y-9, x, y, x+6, y+4)
	}},
	{"plastic_bag", "parts in a plastic bag", "parts in an ordinary plastic bag", func(s *Scene, x, y float64) {
		s.shape(outline, x-22, y-20, x+22, y-20, x+28, y+26, x-28, y+26)
		s.poly(fine, x-22, y-14, x+22, y-14)
		s.rect(mark, x-14, y+4, 10, 8)
		s.rect(mark, x+2, y+10, 10, 8)
	}},
	{"side_cutters", "side cutters", "side cutters", func(s *Scene, x, y float64) {
		thick := Pen{Stroke: Ink, Width: 4}
		s.poly(thick, x-34, y+20, x-6, y, x+12, y-16)
		s.poly(thick, x+34, y+20, x+6, y, x-12, y-16)
		s.circle(mark, x, y-5, 3)
	}},
	{"fire_blanket", "fire blanket", "a fire blanket in its case on the wall", func(s *Scene, x, y float64) {
		s.rect(outline, x-22, y-26, 44, 42)
		s.poly(wire, x-10, y+16, x-10, y+30)
		s.poly(wire, x+10, y+16, x+10, y+30)
		s.move(x, y-20)
		s.curve(x+14, y-8, x+12, y+8, x, y+10)
		s.curve(x-12, y+8, x-14, y-4, x-4, y-10)
		s.curve(x-2, y-14, x-2, y-17, x, y-20)
		s.stroke(fine)
	}},
	{"mains_plug", "open mains adapter", "a mains adapter with its case open, plugged in", func(s *Scene, x, y float64) {
		s.shape(outline, x-26, y-22, x+8, y-22, x+8, y+22, x-26, y+22)
		s.poly(wire, x+16, y-26, x+42, y-18, x+42, y+18)
		s.poly(wire, x-38, y-9, x-26, y-9)
		s.poly(wire, x-38, y+9, x-26, y+9)
		s.rect(fineOut, x-20, y-14, 12, 28)
		s.poly(fine, x-4, y-16, x+2, y-4, x-3, y+2, x+3, y+14)
	}},
}

// wave is a line of warm air rising from (x, y).
func (s *Scene) wave(x, y float64) {
	s.move(x, y)
	s.curve(x-4, y-4, x+4, y-7, x, y-11)
	s.stroke(fine)
}
