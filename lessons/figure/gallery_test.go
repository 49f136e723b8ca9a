package figure

import (
	"fmt"
	markup "html"
	"os"
	"strings"
	"testing"

	"fullyon/engine/part"
)

// galleryStyle stands in for the site's stylesheet, to look at the figures.
const galleryStyle = `:root{--paper:#fcfcfa;--ink:#1d2124;--soft:#5b6268;--rule:#d9dbd6;--wash:#f3f3ee;--copper:#96481b;--holds:#1b6253;--fails:#9c2a2a;--tight:#7a5200}
@media (prefers-color-scheme:dark){:root{--paper:#15181a;--ink:#e7e8e4;--soft:#a4abb0;--rule:#383d41;--wash:#1d2124;--copper:#e39a68;--holds:#7cc9b4;--fails:#f0908c;--tight:#e0b75c}}
*{box-sizing:border-box}html{font:17px/1.5 "Atkinson Hyperlegible","DejaVu Sans",sans-serif;color:var(--ink);background:var(--paper)}
body{margin:0;padding:.8rem}.g{display:flex;flex-wrap:wrap;gap:1rem}.g>div{max-width:100%;background:var(--wash);padding:.4rem}.fig{max-width:100%;height:auto;display:block}
.fig text{font-family:inherit}.num{font-variant-numeric:tabular-nums}p{font-size:.8rem;margin:.3rem 0;max-width:40rem}
.sheet{font-size:.82rem;line-height:1.35;font-variant-numeric:tabular-nums;max-width:46rem}.sheet-name{font-size:.95rem;font-weight:700;margin:0}.sheet-line{color:var(--soft);margin:0 0 .5rem}
table{border-collapse:collapse;width:100%}th,td{padding:.2rem .4rem;border-bottom:1px solid var(--rule);text-align:left;vertical-align:top;font-weight:400}thead th{color:var(--soft);font-weight:600}.n{text-align:right}caption{text-align:left;font-weight:600;padding:.5rem 0 .2rem}
@media (max-width:30rem){.sheet th,.sheet td{padding-inline:.18rem}.sheet{font-size:.76rem}}@media (max-width:40rem){.fig-wide{display:none}}@media (min-width:40rem){.fig-narrow{display:none}}pre{font-size:.7rem;overflow-x:auto}sub{font-size:.75em}`

// TestGallery writes all kinds of figure into one page, to be looked at, when the
// environment names a file for it.
func TestGallery(t *testing.T) {
	var b strings.Builder
	b.WriteString(`<!doctype html><html lang="en"><meta charset="utf-8"><meta name="viewport" content="width=device-width,initial-scale=1"><title>Figures</title><style>` + galleryStyle + `</style><div class="g">`)
	for i, f := range gallery() {
		fmt.Fprintf(&b, "<div>%s</div>", f(fmt.Sprintf("f%d", i)))
	}
	b.WriteString("</div></html>")
	if strings.Contains(b.String(), "NaN") {
		t.Error("a coordinate is not a number")
	}
	if name := os.Getenv("FULLYON_FIGURES"); name != "" {
		if err := os.WriteFile(name, []byte(b.String()), 0o644); err != nil {
			t.Fatal(err)
		}
	}
}

// gallery gives a writer for each figure to be looked at.
func gallery() []func(id string) string {
	var out []func(string) string
	for i, c := range kinds() {
		o := Options{}
		if i >= 12 && i%2 == 1 {
			o.Shifter = SmallN
		}
		f := Schematic(c, o)
		out = append(out, func(id string) string { return f.SVG(id) + "<p>" + string(escape(nil, f.Title)) + "</p>" })
	}
	for _, name := range []string{"N", "P"} {
		p := drawerPart(part.Channel(name), 1)
		t := Datasheet(&p, nil)
		out = append(out, t.HTML, func(string) string { return "<pre>" + markup.EscapeString(t.Text()) + "</pre>" })
		short := Datasheet(&p, []string{"v_ds", "v_gs", "i_d", "t_j", "v_gs_th", "r_ds_on", "theta_ja"})
		out = append(out, short.HTML)
	}
	for _, name := range []string{"N", "P"} {
		p := part.Generate(3, part.Wish{Channel: part.Channel(name)})
		for _, id := range part.CurveIDs() {
			wide, err := curve(&p, id, curveWide, nil)
			if err != nil {
				panic(err)
			}
			narrow, _ := curve(&p, id, curveNarrow, nil)
			out = append(out, func(id string) string {
				return Responsive(id, &wide, &narrow) + "<p>" + markup.EscapeString(wide.Title+": "+wide.Desc) + "</p>" + wide.Table.HTML(id+"-p")
			})
		}
	}
	for i, c := range subjects() {
		for _, kind := range []string{"cross_section", "thermal_ladder", "waveforms", "kick", "rush", "bipolar"} {
			d, err := Draw(kind, Subject{Circuit: c})
			if err != nil {
				continue
			}
			out = append(out, func(id string) string {
				return d.HTML(id) + "<p>" + fmt.Sprint(i, " ", kind, ": ") + markup.EscapeString(strings.Join(d.Facts(), "; ")) + "</p>"
			})
		}
	}
	bench, err := Bench(BenchThings())
	if err != nil {
		panic(err)
	}
	out = append(out, bench.SVG)
	for _, l := range lineExamples() {
		wide := AnswerLine(l)
		l.Width = lineNarrow
		narrow := AnswerLine(l)
		out = append(out, func(id string) string {
			return Responsive(id, &wide, &narrow) + "<pre>" + markup.EscapeString(l.Text(72)) + "</pre>"
		})
	}
	return out
}
