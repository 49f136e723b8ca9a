package web

import (
	"fmt"
	"os"
	"regexp"
	"slices"
	"strings"
	"testing"
	"time"

	"fullyon/grader/problem"

	"github.com/chromedp/chromedp"
	"github.com/chromedp/chromedp/kb"
)

// From the path to the next problem by keyboard alone: a lesson, its pause, a
// problem, a slip that is named, the right answer, the next problem.
func TestByKeyboard(t *testing.T) {
	w := newSite(t)
	b := newTab(t, w)
	x, pause := quantityBehindAPause(t, w)
	lesson := w.s.course.Numbered(x.Lesson)

	b.open("/")
	b.tabTo(`el.classList.contains('skip')`)
	b.tabTo(`el.tagName === 'A' && el.closest('.path') && el.getAttribute('href') === ` + quoted("/lesson/"+lesson.ID))
	b.press("\r")
	b.wait(`location.pathname === ` + quoted("/lesson/"+lesson.ID))
	b.tabTo(`el.tagName === 'BUTTON' && el.form.action.endsWith(` + quoted("/problem/"+x.ID) + `)`)
	b.press("\r")
	b.wait(`location.pathname === ` + quoted("/pause/"+pause.ID))
	b.tabTo(`el.tagName === 'BUTTON' && el.textContent === 'Begin'`)
	b.press("\r")
	b.wait(`document.querySelector('.q')`)
	k := w.latest(pause.ID)
	for i := range pause.Questions {
		b.answerByKeyboard(&pause.Questions[i], k.key.Answers[i].Text)
		b.wait(`document.querySelector('#said-` + pause.Questions[i].ID + `')`)
	}
	b.tabTo(`el.tagName === 'BUTTON' && el.textContent.startsWith('Go on')`)
	b.press("\r")
	b.wait(`location.pathname.startsWith('/work/')`)

	k = w.latest(x.ID)
	q, a := first(k)
	slip := a.Slips[0]
	b.tabTo(`el.id === 'in-` + q.ID + `'`)
	b.press(slip.Text)
	b.wait(`document.querySelector('#reads-` + q.ID + `').textContent.includes(': ')`)
	b.press("\r")
	said := "#said-" + q.ID
	b.wait(`document.querySelector('` + said + `')`)
	b.wait(`document.activeElement === document.querySelector('` + said + `')`)
	if got := evaluate[string](b, `document.querySelector('`+said+`').innerText`); !strings.Contains(got, slip.Slip.Title) {
		t.Errorf("the slip is not named: %q", got)
	}
	address := evaluate[string](b, "location.pathname")
	for i := range k.t.Questions {
		b.answerByKeyboard(&k.t.Questions[i], k.key.Answers[i].Text)
		b.wait(`document.querySelector('#reveal-` + k.t.Questions[i].ID + `')`)
	}
	if got := evaluate[string](b, "location.pathname"); got != address {
		t.Errorf("the page was left for %s though the script swaps in place", got)
	}
	b.wait(`document.querySelector('#after')`)
	b.tabTo(`el.tagName === 'BUTTON' && el.textContent === 'Next problem'`)
	b.press("\r")
	b.wait(`location.pathname !== ` + quoted(address) + ` && document.querySelector('main h1')`)
	b.quiet()
}

// answerByKeyboard answers a question as somebody without a mouse does.
func (b *tab) answerByKeyboard(q *problem.Question, text string) {
	b.t.Helper()
	in := `el.closest('#q-` + q.ID + `') && `
	switch q.Kind {
	case problem.Quantity:
		b.tabTo(in + `el.name === 'text'`)
		b.press(text + "\r") // what stood in the box was selected by the tabulator
		return
	case problem.Order:
		for i, id := range strings.Split(text, ",") {
			b.tabTo(in + `el.name === 'place-` + id + `'`)
			b.press(fmt.Sprint(i + 1))
		}
	default:
		for _, id := range strings.Split(text, ",") {
			b.tabTo(in + `el.name === 'text'`)
			for range 10 {
				if evaluate[bool](b, `document.activeElement.value === `+quoted(id)) {
					break
				}
				if q.Several {
					b.press("\t")
				} else {
					b.press(kb.ArrowDown)
				}
			}
			if !evaluate[bool](b, `document.activeElement.checked`) {
				b.press(" ")
			}
		}
	}
	b.tabTo(in + `el.tagName === 'BUTTON' && el.textContent === 'Mark it'`)
	b.press("\r")
}

func quantityBehindAPause(t *testing.T, w *site) (waiting, pause *problem.Template) {
	t.Helper()
	for _, l := range w.s.course.Lessons {
		if l.Pause == "" {
			continue
		}
		for _, x := range w.s.course.TemplatesOf(l.Number) {
			if v, err := x.Draw(1); err == nil && !x.OnPaper && x.Questions[0].Kind == problem.Quantity && len(x.Key(v).Answers[0].Slips) > 0 {
				p, err := w.s.course.Template(l.Pause)
				if err != nil {
					t.Fatal(err)
				}
				return x, p
			}
		}
	}
	t.Fatal("no lesson has a pause before a problem with a quantity")
	return nil, nil
}

// Every page, light and dark, wide and narrow: no rule of WCAG 2.2 AA is broken,
// nothing is wider than the screen, and the console stays quiet.
func TestAccessible(t *testing.T) {
	w := newSite(t)
	b := newTab(t, w)
	names := regexp.MustCompile(`[^a-z0-9]+`)
	n := 0
	for _, address := range pagesOfEachSort(w) {
		n++
		b.open(address)
		for _, look := range []struct {
			scheme string
			width  int64
		}{{"light", 1200}, {"dark", 320}} {
			b.look(look.scheme, look.width)
			b.do(chromedp.Sleep(150 * time.Millisecond)) // the script follows a new width a tenth of a second later
			name := fmt.Sprintf("%s %s %d", address, look.scheme, look.width)
			b.axe(name)
			if over := evaluate[int](b, `document.documentElement.scrollWidth - innerWidth`); over > 0 {
				wide := evaluate[string](b, `[...document.querySelectorAll('main *')].filter(e => e.getBoundingClientRect().right > innerWidth + 1).slice(0, 3).map(e => e.tagName + '.' + e.className).join(', ')`)
				t.Errorf("%s: the page is %d px wider than the screen (%s)", name, over, wide)
			}
			if os.Getenv("SHOTS") != "" {
				title := names.ReplaceAllString(strings.ToLower(evaluate[string](b, "document.title")), "-")
				b.shot(fmt.Sprintf("%03d-%s-%s-%d", n, title, look.scheme, look.width))
			}
		}
	}
	b.quiet()
}

// What a reader chooses keeps the contrast.
func TestReadingLooks(t *testing.T) {
	w := newSite(t)
	b := newTab(t, w)
	k := w.handed(twoStep)
	q, a := first(k)
	w.answer(k, q.ID, a.Text)
	b.open("/reading")
	for _, looks := range []string{"tint-warm size-larger space-wide", "tint-cool face-system", "tint-warm scheme-dark", "tint-cool scheme-dark"} {
		for _, address := range []string{"/reading", "/work/" + k.work.Handed.ID} {
			b.open(address)
			evaluate[any](b, `document.documentElement.className = `+quoted(looks)+`, null`)
			b.look("light", 320)
			b.do(chromedp.Sleep(150 * time.Millisecond))
			b.axe(address + " " + looks)
			if over := evaluate[int](b, `document.documentElement.scrollWidth - innerWidth`); over > 0 {
				t.Errorf("%s %s: the page is %d px wider than the screen", address, looks, over)
			}
			b.shot("looks-" + strings.ReplaceAll(looks, " ", "-") + strings.ReplaceAll(address[:5], "/", "-"))
		}
	}
	b.quiet()
}

// The crosshair of a plot follows the arrow keys and says where it stands.
func TestCrosshair(t *testing.T) {
	w := newSite(t)
	b := newTab(t, w)
	for _, x := range w.s.course.Templates {
		if !slices.Contains(x.Figures, "ratio_curve") {
			continue
		}
		b.open("/work/" + w.handed(x.ID).work.Handed.ID)
		b.tabTo(`el.classList.contains('plot')`)
		say := func() string { return evaluate[string](b, `document.querySelector('.reading-off').textContent`) }
		before := say()
		b.press(kb.ArrowRight)
		first := say()
		b.press(kb.ArrowRight)
		if second := say(); first == before || second == first || !strings.Contains(second, "°C") {
			t.Errorf("the crosshair says %q, %q, %q", before, first, second)
		}
		b.quiet()
		return
	}
	t.Fatal("no template shows a curve")
}

// pagesOfEachSort gives the addresses of pages that between them show everything
// a page can hold. The page of a missing address is tested in process, since the
// browser's console notes it.
func pagesOfEachSort(w *site) []string {
	seen := map[string]bool{}
	var some []*problem.Template
	for _, x := range w.s.course.Templates {
		news := x.ID == twoStep
		for i := range x.Questions {
			for _, sort := range []string{string(x.Questions[i].Kind), fmt.Sprint(x.Questions[i].Kind, x.Pause), fmt.Sprint(x.Questions[i].Several)} {
				news = news || !seen[sort]
				seen[sort] = true
			}
		}
		for _, f := range x.Figures {
			news = news || !seen[f]
			seen[f] = true
		}
		if news {
			some = append(some, x)
		}
	}
	return slices.DeleteFunc(pagesOf(w, some), func(address string) bool { return strings.Contains(address, "?") })
}

// What is typed into one box is still there when another question was marked.
func TestSwapKeepsOtherBoxes(t *testing.T) {
	w := newSite(t)
	b := newTab(t, w)
	k := w.handed(twoStep)
	q, a := first(k)
	second := k.t.Questions[1].ID
	b.open("/work/" + k.work.Handed.ID)
	b.tabTo(`el.id === 'in-` + q.ID + `'`)
	b.press(a.Slips[0].Text)
	b.tabTo(`el.id === 'in-` + second + `'`)
	b.press("half typed")
	evaluate[any](b, `document.querySelector('#in-`+q.ID+`').focus(), null`)
	b.press("\r")
	b.wait(`document.querySelector('#said-` + q.ID + `')`)
	if got := evaluate[string](b, `document.querySelector('#in-`+second+`').value`); got != "half typed" {
		t.Errorf("the other box holds %q after the swap", got)
	}
	b.quiet()
}
