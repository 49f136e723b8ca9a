package lessons

import (
	"regexp"
	"slices"
	"strings"
	"testing"
	"testing/fstest"
)

// Every source is cited by a lesson, a template or a claim, or is marked as background;
// that the ones cited exist is proved when the course is loaded.
func TestSourcesAreCited(t *testing.T) {
	c, err := Built()
	if err != nil {
		t.Fatal(err)
	}
	cited := map[string]bool{}
	add := func(ids []string) {
		for _, id := range ids {
			cited[id] = true
		}
	}
	for _, l := range c.Lessons {
		add(l.Sources)
	}
	for _, p := range c.Templates {
		add(p.Sources)
	}
	for _, s := range c.Sources {
		if !cited[s.ID] && !s.Background {
			t.Errorf("nothing cites %s, and it is not marked as background", s.ID)
		}
		if cited[s.ID] && s.Background {
			t.Errorf("%s is marked as background and is cited", s.ID)
		}
	}
}

// Every lesson has its claims listed, each borne by sources that the lesson itself names.
func TestClaims(t *testing.T) {
	c, err := Built()
	if err != nil {
		t.Fatal(err)
	}
	count := map[int]int{}
	said := map[string]bool{}
	for _, claim := range c.Claims {
		l := c.Numbered(claim.Lesson)
		if l == nil {
			t.Errorf("a claim of lesson %d, which there is not: %s", claim.Lesson, claim.Says)
			continue
		}
		count[claim.Lesson]++
		if said[claim.Says] || len(strings.Fields(claim.Says)) < 4 {
			t.Errorf("lesson %d: a claim that comes twice or says nothing: %q", l.Number, claim.Says)
		}
		said[claim.Says] = true
		if len(claim.Sources) == 0 {
			t.Errorf("lesson %d: nothing bears %q", l.Number, claim.Says)
		}
		for _, id := range claim.Sources {
			if !slices.Contains(l.Sources, id) {
				t.Errorf("lesson %d does not name %s, which bears %q", l.Number, id, claim.Says)
			}
		}
	}
	for _, l := range c.Lessons {
		if count[l.Number] < 2 {
			t.Errorf("lesson %d has %d claims listed", l.Number, count[l.Number])
		}
	}
}

// A pause says what it leans on: at least one fact about working without harm, or the
// trade's order of work.
func TestPausesHaveGrounds(t *testing.T) {
	c, err := Built()
	if err != nil {
		t.Fatal(err)
	}
	if n := len(c.Pauses); n < 40 {
		t.Errorf("%d pauses, want forty or more", n)
	}
	for _, p := range c.Pauses {
		if !slices.ContainsFunc(p.Sources, func(id string) bool { return strings.HasPrefix(id, "safety-") }) {
			t.Errorf("%s names no fact about working without harm: %v", p.ID, p.Sources)
		}
		placed := false
		for _, l := range c.Lessons {
			placed = placed || l.Pause == p.ID || slices.ContainsFunc(l.Parts, func(part Part) bool { return part.Pause == p.ID })
		}
		if !placed && c.Numbered(p.Lesson) != nil {
			t.Errorf("%s stands in no lesson", p.ID)
		}
	}
}

func TestClaimMistakes(t *testing.T) {
	const one = "- {id: AN-1, title: A note, where: note 1, ground: read}\n"
	for _, c := range []struct{ src, want string }{
		{one, ``},
		{"sources:\n" + one, ``},
		{"sources:\n" + one + "claims:\n- {lesson: 8, says: Heat rises, by: [AN-1]}\n", ``},
		{"sources:\n" + one + "claims:\n- {lesson: 8, says: Heat rises, by: [AN-2]}\n", `sources.yaml:4:\d+: there is no source "AN-2"; the nearest is "AN-1"`},
		{"sources:\n" + one + "claims:\n- {lesson: 8, by: [AN-1]}\n", `sources.yaml:4:3: .*says.*`},
		{"sources:\n" + one + "claim: []\n", `sources.yaml:3:1: .*claims.*`},
		{"claims: []\n", `sources.yaml:1:1: .*sources.*`},
	} {
		m := good()
		m["sources.yaml"] = &fstest.MapFile{Data: []byte(c.src)}
		_, err := Load(m)
		switch {
		case c.want == "" && err != nil:
			t.Errorf("%s\n%v", c.src, err)
		case c.want != "" && (err == nil || !regexp.MustCompile(`(?m)^`+c.want+`$`).MatchString(err.Error())):
			t.Errorf("%s\ngot  %v\nwant %s", c.src, err, c.want)
		}
	}
}
