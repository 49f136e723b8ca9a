package web

import (
	"net/http"
	"net/url"
	"strings"
	"testing"
)

func TestReading(t *testing.T) {
	w := newSite(t)
	g := w.do(request("POST", "/reading", url.Values{"key": {newKey()}, "size": {"large"}, "tint": {"warm"}, "face": {"usual"}, "scheme": {"\" onload=x"}, "other": {"x"}})).want(http.StatusSeeOther)
	cookie := g.header.Get("Set-Cookie")
	for _, want := range []string{"looks=size-large.tint-warm;", "HttpOnly", "SameSite=Lax", "Path=/"} {
		if !strings.Contains(cookie, want) {
			t.Errorf("the cookie %q lacks %q", cookie, want)
		}
	}
	class := func(value string) string {
		r := request("GET", "/reading", nil)
		r.Header.Set("Cookie", "looks="+value)
		return attr(w.do(r).want(http.StatusOK).all("html")[0], "class")
	}
	for value, want := range map[string]string{
		"size-large.tint-warm": "size-large tint-warm",
		"tint-warm.size-large": "size-large tint-warm",
		"":                     "",
		"size-huge":            "",
		"x><script>":           "",
		"scheme-dark.scheme":   "scheme-dark",
	} {
		if got := class(value); got != want {
			t.Errorf("the cookie %q gives the classes %q, want %q", value, got, want)
		}
	}
	w.post("/reading", url.Values{"size": {"large"}}).want(http.StatusBadRequest) // without a key
}
