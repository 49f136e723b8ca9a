package web

import (
	"bytes"
	"fmt"
	"regexp"
	"testing"
	"time"

	cdpage "github.com/chromedp/cdproto/page"
	"github.com/chromedp/chromedp"
)

// The reference card prints on one page of either size, and breaks no rule of
// WCAG 2.2 AA, nor does the glossary and a pause on a drawn bench.
func TestCardAndGlossaryInABrowser(t *testing.T) {
	w := newSite(t)
	b := newTab(t, w)
	pause := w.handed("pause-what-lies-about")
	for _, address := range []string{"/card", "/glossary", "/pause/" + pause.t.ID} {
		b.open(address)
		for _, look := range []struct {
			scheme string
			width  int64
		}{{"light", 1200}, {"dark", 320}} {
			b.look(look.scheme, look.width)
			b.do(chromedp.Sleep(150 * time.Millisecond))
			name := fmt.Sprintf("%s %s %d", address, look.scheme, look.width)
			b.axe(name)
			if over := evaluate[int](b, `document.documentElement.scrollWidth - innerWidth`); over > 0 {
				t.Errorf("%s: the page is %d px wider than the screen", name, over)
			}
			b.shot(fmt.Sprintf("%s-%d", regexp.MustCompile(`\W+`).ReplaceAllString(address, "-"), look.width))
		}
	}
	b.open("/card")
	for _, size := range []struct {
		name          string
		width, height float64 // in
	}{{"A4", 210 / 25.4, 297 / 25.4}, {"Letter", 8.5, 11}} {
		got, err := chromedp.Call(b.ctx, cdpage.PrintToPDF, cdpage.PrintToPDFParams{PaperWidth: size.width, PaperHeight: size.height})
		if err != nil {
			t.Fatal(err)
		}
		if n := len(regexp.MustCompile(`/Type\s*/Page\b`).FindAll(got.Data, -1)); n != 1 || !bytes.HasPrefix(got.Data, []byte("%PDF")) {
			t.Errorf("on %s the card takes %d pages", size.name, n)
		}
	}
	b.quiet()
}
