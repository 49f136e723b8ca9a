package class

import (
	"strings"
	"testing"
	"time"

	"pgregory.net/rapid"

	"fullyon/grader/problem"
)

// goldenSeed is HMAC-SHA-256 by an independent implementation (Python's hmac module).
const goldenSeed = 763007579029337

var monday = time.Date(2030, 9, 2, 8, 0, 0, 0, time.UTC)

func homework() Set {
	return Set{Title: "Heat", Purpose: Practice, Templates: []string{"a", "b"}, PerTemplate: 1, Opens: monday, Due: monday.AddDate(0, 0, 7), Late: 0.1, Attempts: 3}
}

func TestSeedsTellLearnersApart(t *testing.T) {
	secret := []byte("a secret of thirty-two bytes ...")
	seen := map[uint64]bool{}
	for _, c := range [][4]string{{"set", "ada", "t", "1"}, {"set", "ben", "t", "1"}, {"set", "ada", "u", "1"}, {"seta", "da", "t", "1"}, {"", "setada", "t", "1"}} {
		s := Seed(secret, c[0], c[1], c[2], 1)
		if s > problem.MaxSeed || seen[s] {
			t.Errorf("%v: seed %d", c, s)
		}
		seen[s] = true
	}
	if Seed(secret, "s", "l", "t", 1) == Seed(secret, "s", "l", "t", 2) || Seed(secret, "s", "l", "t", 1) == Seed([]byte("another"), "s", "l", "t", 1) {
		t.Error("another number or another secret gives the same seed")
	}
	if got := Seed([]byte("key"), "s", "l", "t", 1); got != goldenSeed {
		t.Errorf("seed %d, want %d: draws handed out would change", got, goldenSeed)
	}
}

func TestWhatLateAnswersEarn(t *testing.T) {
	s := homework()
	due := s.Due
	for _, c := range []struct {
		name  string
		at    time.Time
		a     Allowance
		share float64
		open  bool
		flag  bool
	}{
		{"before it opens", monday.Add(-time.Second), Allowance{}, 1, false, false},
		{"in time", due.Add(-time.Hour), Allowance{}, 1, true, false},
		{"at the due second", due, Allowance{}, 1, true, false},
		{"within the grace", due.Add(30 * time.Second), Allowance{}, 1, true, true},
		{"an hour late", due.Add(time.Hour), Allowance{}, 0.9, true, false},
		{"25 hours late", due.Add(25 * time.Hour), Allowance{}, 0.8, true, false},
		{"eleven days late", due.AddDate(0, 0, 11), Allowance{}, 0, false, false},
		{"with a later due time", due.Add(25 * time.Hour), Allowance{Due: due.AddDate(0, 0, 2)}, 1, true, false},
	} {
		share, open, flag := s.Share(c.at, c.a), s.Open(c.at, c.a), s.Flagged(c.at, c.a)
		if share < c.share-1e-9 || share > c.share+1e-9 || open != c.open || flag != c.flag {
			t.Errorf("%s: share %.2f open %v flagged %v, want %.2f %v %v", c.name, share, open, flag, c.share, c.open, c.flag)
		}
	}
	s.Late = 1
	if s.Open(due.Add(2*Grace), Allowance{}) {
		t.Error("a set that closes at its due time is open after it")
	}
}

func TestShareNeverRises(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		s := homework()
		s.Late = rapid.Float64Range(0, 1.5).Draw(t, "late")
		a := rapid.Int64Range(0, 30*86400).Draw(t, "earlier")
		b := a + rapid.Int64Range(0, 30*86400).Draw(t, "more")
		if s.Share(monday.Add(time.Duration(b)*time.Second), Allowance{}) > s.Share(monday.Add(time.Duration(a)*time.Second), Allowance{}) {
			t.Fatalf("an answer is worth more later")
		}
	})
}

func TestSetsThatCannotBe(t *testing.T) {
	for _, c := range []struct {
		want string
		mend func(*Set)
	}{
		{"title", func(s *Set) { s.Title = "" }},
		{"at least one problem", func(s *Set) { s.Templates = nil }},
		{"chosen twice", func(s *Set) { s.Templates = []string{"a", "a"} }},
		{"due before it opens", func(s *Set) { s.Due = s.Opens }},
		{"1 to 10 attempts", func(s *Set) { s.Attempts = 0 }},
		{"1 to 20 draws", func(s *Set) { s.PerTemplate = 0 }},
		{"negative", func(s *Set) { s.Late = -1 }},
	} {
		s := homework()
		c.mend(&s)
		if got := strings.Join(s.Check(), " "); !strings.Contains(got, c.want) {
			t.Errorf("%q, want …%s…", got, c.want)
		}
	}
	s := homework()
	if got := s.Check(); got != nil {
		t.Errorf("a good set: %v", got)
	}
}

func TestRulesOfASet(t *testing.T) {
	s := homework()
	r := s.Rules(Allowance{Attempts: 2})
	if r.Attempts != 5 || len(r.Shares) != 5 || r.Shares[0] != 1 || r.Shares[4] != 0.6 {
		t.Errorf("%+v", r)
	}
	s.AnswersAt = AfterDue
	if s.AnswersOpen(s.Due, Allowance{}) || !s.AnswersOpen(s.Due.Add(2*Grace), Allowance{}) {
		t.Error("worked answers open at the wrong time")
	}
}
