package web

import (
	"compress/gzip"
	"context"
	"errors"
	"io"
	"net/http"
	"net/http/httptest"
	"net/url"
	"strings"
	"testing"

	"fullyon/web/store"

	"golang.org/x/net/html"
)

var injections = []string{
	`<script>alert(1)</script>`,
	`"><img src=x onerror=alert(1)>`,
	`' onfocus='alert(1)' autofocus='`,
	`javascript:alert(1)`,
	`</title><script>alert(1)</script>`,
	`{{.Key}}`,
	"\x00\xff\u2028<svg onload=alert(1)>",
}

// clean fails if a page holds an element or attribute that nobody wrote into its template.
func clean(t *testing.T, g *got, what string) {
	t.Helper()
	walk(g.doc, func(n *html.Node) {
		if n.Data == "img" || n.Data == "script" && !strings.HasPrefix(attr(n, "src"), "/static/") || attr(n, "autofocus") != "" {
			t.Errorf("%s: <%s> came into the page", what, n.Data)
		}
		for _, a := range n.Attr {
			if strings.HasPrefix(a.Key, "on") || strings.HasPrefix(a.Val, "javascript:") && a.Key != "value" {
				t.Errorf("%s: <%s %s=%q> came into the page", what, n.Data, a.Key, a.Val)
			}
		}
	})
}

func TestInjection(t *testing.T) {
	w := newSite(t)
	k := w.handed(twoStep)
	work := "/work/" + k.work.Handed.ID
	pause := w.s.course.Pauses[0].ID
	for _, x := range injections {
		esc := url.PathEscape(x)
		for _, address := range []string{
			"/" + esc, "/lesson/" + esc, "/problem/" + esc, "/work/" + esc, "/pause/" + esc, "/static/" + esc + "/" + esc,
			"/lesson/" + w.s.course.Lessons[0].ID + "?again=" + url.QueryEscape(x),
			"/pause/" + pause + "?then=" + url.QueryEscape(x), "/progress?all=" + url.QueryEscape(x),
			"/read?unit=" + url.QueryEscape(x) + "&text=1", "/read?unit=mW&text=" + url.QueryEscape(x),
		} {
			g := w.get(address)
			if g.status >= 500 {
				t.Errorf("%s answers %d", address, g.status)
			}
			if strings.HasPrefix(g.header.Get("Content-Type"), "text/html") {
				clean(t, g, address)
			}
		}
		q, _ := first(k)
		for _, form := range []url.Values{
			{"key": {newKey()}, "q": {q.ID}, "text": {x}},
			{"key": {newKey()}, "q": {x}, "text": {"1 W"}},
			{"key": {x}, "q": {q.ID}, "text": {x}},
			{"key": {newKey()}, "q": {q.ID}, "text": {x}, "then": {x}},
		} {
			for _, to := range []string{work + "/answer", work + "/open"} {
				g := w.post(to, form)
				if g.status >= 500 {
					t.Errorf("%s with %v answers %d", to, form, g.status)
				}
				clean(t, g, to)
			}
		}
		clean(t, w.post("/problem/"+twoStep, url.Values{"key": {newKey()}, "why": {x}, "new": {x}}), "begin")
		clean(t, w.post("/pause/"+pause, url.Values{"key": {newKey()}, "then": {x}}), "pause")
		clean(t, w.get("/progress"), "progress")
	}
}

func TestHost(t *testing.T) {
	w := newSite(t)
	w.s.host = "bench.example"
	for host, want := range map[string]int{
		"127.0.0.1:4180": 200, "localhost:4180": 200, "LOCALHOST": 200, "[::1]:4180": 200, "127.1.2.3": 200, "localhost.": 200, "bench.example:80": 200, "x.localhost": 200,
		"evil.example": 421, "evil.example:4180": 421, "127.0.0.1.evil.example": 421, "localhost.evil.example": 421, "": 421, "192.168.1.5": 421, "0.0.0.0": 421,
	} {
		r := request("GET", "/", nil)
		r.Host = host
		if g := w.do(r); g.status != want {
			t.Errorf("host %q: status %d, want %d", host, g.status, want)
		} else if want == 421 {
			g.says("", "Open that address")
		}
	}
}

func TestOtherSites(t *testing.T) {
	w := newSite(t)
	for _, header := range []map[string]string{
		{"Sec-Fetch-Site": "cross-site"}, {"Sec-Fetch-Site": "same-site"}, {"Origin": "https://evil.example", "Sec-Fetch-Site": ""},
	} {
		r := request("POST", "/problem/"+twoStep, url.Values{"key": {newKey()}})
		for k, v := range header {
			r.Header.Set(k, v)
			if v == "" {
				r.Header.Del(k)
			}
		}
		g := w.do(r)
		if g.status != http.StatusForbidden {
			t.Errorf("%v: status %d, want 403", header, g.status)
		}
		g.says("", "another site")
	}
	if p, err := w.store.Progress(t.Context(), w.learner); err != nil || len(p) != 0 {
		t.Errorf("something was handed out: %v, %v", p, err)
	}
}

func TestHeaders(t *testing.T) {
	w := newSite(t)
	for _, address := range []string{"/", "/nothing", "/static/x/style.css", "/read?unit=mW&text=1"} {
		g := w.get(address)
		for name, want := range map[string]string{
			"Content-Security-Policy": contentPolicy, "X-Content-Type-Options": "nosniff", "X-Frame-Options": "DENY",
			"Referrer-Policy": "same-origin", "Cross-Origin-Opener-Policy": "same-origin", "Cross-Origin-Resource-Policy": "same-origin",
		} {
			if got := g.header.Get(name); got != want {
				t.Errorf("%s: %s is %q, want %q", address, name, got, want)
			}
		}
	}
	if strings.Contains(contentPolicy, "unsafe") {
		t.Error("the content policy allows inline script or style")
	}
}

func TestAssets(t *testing.T) {
	w := newSite(t)
	for name := range w.s.assets.files {
		address, err := w.s.assets.address(name)
		if err != nil {
			t.Fatal(err)
		}
		g := w.get(address).want(http.StatusOK)
		if !strings.Contains(g.header.Get("Cache-Control"), "immutable") || g.header.Get("ETag") == "" {
			t.Errorf("%s: headers %v", name, g.header)
		}
		r := request("GET", address, nil)
		r.Header.Set("If-None-Match", g.header.Get("ETag"))
		if g := w.do(r); g.status != http.StatusNotModified || len(g.body) > 0 {
			t.Errorf("%s: status %d with its ETag, %d bytes", name, g.status, len(g.body))
		}
		if g := w.get("/static/old/" + name); strings.Contains(g.header.Get("Cache-Control"), "immutable") {
			t.Errorf("%s under an old address may be kept for ever", name)
		}
	}
	for _, address := range []string{"/static/x/../../go.mod", "/static/x/nothing.css", "/static/x/", "/static/"} {
		if g := w.get(address); g.status != http.StatusNotFound {
			t.Errorf("%s: status %d", address, g.status)
		}
	}
}

// A page is small on the wire.
func TestWire(t *testing.T) {
	w := newSite(t)
	for _, address := range everyPage(w) {
		r := request("GET", address, nil)
		r.Header.Set("Accept-Encoding", "gzip")
		rec := httptest.NewRecorder()
		w.h.ServeHTTP(rec, r)
		if rec.Code == http.StatusSeeOther {
			continue
		}
		if rec.Header().Get("Content-Encoding") != "gzip" {
			t.Errorf("%s is sent as it is", address)
			continue
		}
		if n := rec.Body.Len(); n > 60<<10 {
			t.Errorf("%s: %d bytes on the wire", address, n)
		}
		z, err := gzip.NewReader(rec.Body)
		if err != nil {
			t.Fatal(err)
		}
		if b, err := io.ReadAll(z); err != nil || !strings.HasSuffix(strings.TrimSpace(string(b)), "</html>") {
			t.Errorf("%s does not unpack: %v", address, err)
		}
	}
}

// broken is a store whose disk fails.
type broken struct{ store.Store }

var errDisk = errors.New("disk I/O error at /var/secret/records.db")

func TestInnerFailureTellsNothing(t *testing.T) {
	w := newSite(t)
	w.s.store = brokenProgress{broken{w.store}}
	g := w.get("/progress").want(http.StatusInternalServerError)
	if strings.Contains(g.body, "secret") || strings.Contains(g.body, "disk I/O") {
		t.Errorf("the page tells what failed inside: %s", text(g.doc))
	}
	g.says("", "Number in the log")
	w.s.store = panicking{broken{w.store}}
	w.get("/progress").want(http.StatusInternalServerError).says("", "Something went wrong here")
}

func TestMethods(t *testing.T) {
	w := newSite(t)
	for method, want := range map[string]int{"HEAD": 200, "PUT": 405, "DELETE": 405, "POST": 405} {
		if g := w.do(request(method, "/", nil)); g.status != want {
			t.Errorf("%s /: status %d, want %d", method, g.status, want)
		}
	}
	k := w.handed(twoStep)
	w.do(request("GET", "/work/"+k.work.Handed.ID+"/answer", nil)).want(http.StatusSeeOther)
}

type brokenProgress struct{ broken }

func (brokenProgress) Progress(context.Context, string) ([]store.Progress, error) {
	return nil, errDisk
}

type panicking struct{ broken }

func (panicking) Progress(context.Context, string) ([]store.Progress, error) {
	panic("index out of range")
}
