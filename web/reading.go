package web

import (
	"net/http"
	"slices"
	"strings"
	"time"
)

// How pages look for one reader is kept in a cookie of the browser: a projector
// and a phone of the same person want different things.
const looksCookie = "looks"

// choice is one thing a reader may choose, with what it may be. The first is the usual.
type choice struct {
	Name, Title string
	Words       []word
}

type word struct{ ID, Title string }

var choices = []choice{
	{"size", "Size of the text", []word{{"usual", "usual"}, {"large", "large"}, {"larger", "larger"}}},
	{"space", "Space between lines, words and letters", []word{{"usual", "usual"}, {"wide", "wide"}}},
	{"face", "Letters", []word{{"usual", "the program's own, made to be told apart"}, {"system", "those of this machine"}}},
	{"scheme", "Light or dark", []word{{"usual", "as this machine is set"}, {"light", "light"}, {"dark", "dark"}}},
	{"tint", "Colour of the paper", []word{{"usual", "plain"}, {"warm", "warm"}, {"cool", "cool"}}},
}

// looks is what a reader chose, by name; the usual is left out.
type looks map[string]string

// looksOf reads the cookie. What is no choice counts as the usual.
func looksOf(r *http.Request) looks {
	l := looks{}
	c, err := r.Cookie(looksCookie)
	if err != nil {
		return l
	}
	chosen := strings.Split(c.Value, ".")
	for _, ch := range choices {
		for _, w := range ch.Words[1:] {
			if slices.Contains(chosen, ch.Name+"-"+w.ID) {
				l[ch.Name] = w.ID
			}
		}
	}
	return l
}

// classes are those of the page, in a fixed order.
func (l looks) classes() string {
	var out []string
	for _, ch := range choices {
		if w := l[ch.Name]; w != "" {
			out = append(out, ch.Name+"-"+w)
		}
	}
	return strings.Join(out, " ")
}

// readingView is what reading.html shows.
type readingView struct {
	Shell
	Key     string
	Choices []choiceView
}

type choiceView struct {
	Name, Title string
	Words       []wordView
}

type wordView struct {
	word
	Checked bool
}

// readingPage offers how pages may look: GET /reading.
func (s *Server) readingPage(w http.ResponseWriter, r *http.Request) error {
	now := looksOf(r)
	v := &readingView{Shell: Shell{Title: "Text and colours"}, Key: newKey()}
	for _, ch := range choices {
		c := choiceView{Name: ch.Name, Title: ch.Title}
		for i, x := range ch.Words {
			c.Words = append(c.Words, wordView{x, now[ch.Name] == x.ID || i == 0 && now[ch.Name] == ""})
		}
		v.Choices = append(v.Choices, c)
	}
	return s.render(w, r, http.StatusOK, "reading", v)
}

// setReading keeps what was chosen: POST /reading.
func (s *Server) setReading(w http.ResponseWriter, r *http.Request) error {
	if _, err := formKey(r); err != nil {
		return err
	}
	l := looks{}
	for _, ch := range choices {
		for _, x := range ch.Words[1:] {
			if r.PostForm.Get(ch.Name) == x.ID {
				l[ch.Name] = x.ID
			}
		}
	}
	http.SetCookie(w, &http.Cookie{
		Name: looksCookie, Value: strings.ReplaceAll(l.classes(), " ", "."), Path: "/",
		MaxAge: int((365 * 24 * time.Hour).Seconds()), HttpOnly: true, SameSite: http.SameSiteLaxMode,
	})
	return seeOther(w, r, "/reading")
}
