package web

import (
	"cmp"
	"context"
	_ "embed"
	"encoding/json"
	"fmt"
	"net/http/httptest"
	"os"
	"os/exec"
	"path/filepath"
	"strings"
	"testing"
	"time"

	"github.com/chromedp/cdproto/emulation"
	"github.com/chromedp/chromedp"
)

//go:embed testdata/axe.min.js
var axeSource string

// newBrowser starts a browser for a test. Where there is none, the test is
// skipped, unless all tests were asked for.
func newBrowser(t testing.TB) context.Context {
	t.Helper()
	bin, err := exec.LookPath(cmp.Or(os.Getenv("CHROMIUM"), "chromium"))
	if err != nil {
		if os.Getenv("FULLYON_TEST_ALL") == "1" {
			t.Fatal("there is no chromium, and FULLYON_TEST_ALL=1 asks for every test")
		}
		t.Skip("there is no chromium: install it, or name it in CHROMIUM")
	}
	ctx, stop := chromedp.NewExecAllocator(context.Background(),
		chromedp.ExecPath(bin), chromedp.UserDataDir(t.TempDir()), chromedp.Headless,
		chromedp.NoSandbox, chromedp.DisableGPU, chromedp.NoFirstRun,
		chromedp.Flag("disable-quic", true), chromedp.Flag("disable-background-networking", true),
		chromedp.Flag("disable-component-update", true), chromedp.Flag("disable-sync", true),
		chromedp.Flag("disable-dev-shm-usage", true), chromedp.Flag("hide-scrollbars", true), chromedp.WindowSize(1100, 800),
	)
	ctx, cancel := chromedp.NewContext(ctx)
	t.Cleanup(func() { chromedp.Cancel(ctx); cancel(); stop() })
	if err := chromedp.Do(ctx); err != nil {
		t.Fatal(err)
	}
	return ctx
}

// tab is a page in a browser, and what its console said.
type tab struct {
	t    *testing.T
	ctx  context.Context
	base string
	said <-chan string
	stop func()
}

func newTab(t *testing.T, w *site) *tab {
	t.Helper()
	srv := httptest.NewServer(w.h)
	t.Cleanup(srv.Close)
	ctx, cancel := context.WithTimeout(newBrowser(t), 8*time.Minute)
	t.Cleanup(cancel)
	console, stop := context.WithCancel(ctx)
	messages := chromedp.Console(console)
	said := make(chan string, 1)
	go func() {
		var all []string
		for m, err := range messages {
			if err != nil {
				break
			}
			all = append(all, fmt.Sprintf("%s: %s", m.Type, m.Text))
		}
		said <- strings.Join(all, "\n")
	}()
	return &tab{t, ctx, srv.URL, said, stop}
}

// quiet fails if the console said anything: a script's error, a breach of the
// content policy, a file that is missing.
func (b *tab) quiet() {
	b.t.Helper()
	b.do(chromedp.Sleep(150 * time.Millisecond))
	b.stop()
	if said := <-b.said; said != "" {
		b.t.Errorf("the console said:\n%s", said)
	}
}

func (b *tab) do(steps ...chromedp.Action[chromedp.Void]) {
	b.t.Helper()
	if err := chromedp.Do(b.ctx, steps...); err != nil {
		b.t.Fatal(err)
	}
}

func (b *tab) open(address string) {
	b.t.Helper()
	b.do(chromedp.Navigate(b.base + address))
}

func evaluate[T any](b *tab, script string) T {
	b.t.Helper()
	v, err := chromedp.Run(b.ctx, chromedp.Evaluate[T](script))
	if err != nil {
		b.t.Fatalf("%s: %v", script, err)
	}
	return v
}

func (b *tab) look(scheme string, width int64) {
	b.t.Helper()
	_, err := chromedp.Call(b.ctx, emulation.SetEmulatedMedia, emulation.SetEmulatedMediaParams{
		Features: []*emulation.MediaFeature{{Name: "prefers-color-scheme", Value: scheme}},
	})
	if err != nil {
		b.t.Fatal(err)
	}
	b.do(chromedp.EmulateViewport(width, 900))
}

// shot keeps a picture of the page in the folder SHOTS, for people to look at.
func (b *tab) shot(name string) {
	b.t.Helper()
	dir := os.Getenv("SHOTS")
	if dir == "" {
		return
	}
	png, err := chromedp.Run(b.ctx, chromedp.FullScreenshot(100))
	if err != nil {
		b.t.Fatal(err)
	}
	if err := os.WriteFile(filepath.Join(dir, name+".png"), png, 0o644); err != nil {
		b.t.Fatal(err)
	}
}

// axe runs the rules of WCAG 2.2 A and AA on the page and fails on each violation.
func (b *tab) axe(what string) {
	b.t.Helper()
	b.do(chromedp.Evaluate[chromedp.Void](axeSource + ";0"))
	raw, err := chromedp.Run(b.ctx, chromedp.Evaluate[string](
		`axe.run(document,{runOnly:{type:'tag',values:['wcag2a','wcag2aa','wcag21a','wcag21aa','wcag22aa']}}).then(r=>JSON.stringify(r.violations))`,
		chromedp.EvalAwaitPromise))
	if err != nil {
		b.t.Fatal(err)
	}
	var found []struct {
		ID, Help string
		Nodes    []struct {
			Target         []any  `json:"target"`
			FailureSummary string `json:"failureSummary"`
		}
	}
	if err := json.Unmarshal([]byte(raw), &found); err != nil {
		b.t.Fatal(err)
	}
	for _, v := range found {
		b.t.Errorf("%s: %s: %s at %v: %s", what, v.ID, v.Help, v.Nodes[0].Target, v.Nodes[0].FailureSummary)
	}
}

// tabTo presses the tabulator until what has the focus meets a condition on el.
func (b *tab) tabTo(condition string) {
	b.t.Helper()
	for range 150 {
		b.do(chromedp.KeyEvent("\t"))
		if evaluate[bool](b, `(el => !!(el && el !== document.body && (`+condition+`)))(document.activeElement)`) {
			return
		}
	}
	b.t.Fatalf("no element with %s can be reached by the tabulator at %s", condition, evaluate[string](b, "location.pathname"))
}

func (b *tab) wait(condition string) {
	b.t.Helper()
	for range 100 {
		if ok, err := chromedp.Run(b.ctx, chromedp.Evaluate[bool](`!!(`+condition+`)`)); err == nil && ok {
			return
		}
		time.Sleep(50 * time.Millisecond)
	}
	b.t.Fatalf("%s does not come true at %s; the page says: %s", condition, evaluate[string](b, "location.href"), evaluate[string](b, "document.querySelector('main').innerText"))
}

func (b *tab) press(keys string) {
	b.t.Helper()
	b.do(chromedp.KeyEvent(keys))
}

func quoted(s string) string {
	out, _ := json.Marshal(s) // a string always has its JSON
	return string(out)
}
