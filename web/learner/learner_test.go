package learner

import (
	"testing"
	"time"

	"fullyon/grader/mastery"
	"fullyon/grader/problem"
	"fullyon/lessons"
	"fullyon/web/store"
)

func course(t *testing.T) *lessons.Course {
	t.Helper()
	c, err := lessons.Built()
	if err != nil {
		t.Fatal(err)
	}
	return c
}

var monday = time.Date(2030, 1, 7, 18, 0, 0, 0, time.UTC)

// at is an answer to the first question of footlight-switch.
func at(handed, outcome string, try, helped, minute int) store.Past {
	return store.Past{Handed: handed, Template: "footlight-switch", Question: "resistance", Try: try, Helped: helped, Outcome: outcome, Made: monday.Add(time.Duration(minute) * time.Minute)}
}

func TestTriesAreFirstAttemptsThatCounted(t *testing.T) {
	for _, c := range []struct {
		name    string
		history []store.Past
		want    []bool
	}{
		{"nothing", nil, nil},
		{"unreadable, then right", []store.Past{at("1", "unreadable", 0, 0, 0), at("1", "right", 1, 0, 1)}, []bool{true}},
		{"wrong, then right", []store.Past{at("1", "slip", 1, 0, 0), at("1", "right", 2, 0, 1)}, []bool{false}},
		{"right after a hint", []store.Past{at("1", "right", 1, 1, 0)}, []bool{false}},
		{"a prefix, corrected", []store.Past{at("1", "wrong_unit", 1, 0, 0), at("1", "right", 2, 0, 1)}, []bool{true}},
		{"a prefix twice", []store.Past{at("1", "wrong_unit", 1, 0, 0), at("1", "wrong_unit", 2, 0, 1), at("1", "right", 3, 0, 2)}, []bool{false}},
		{"two draws", []store.Past{at("1", "right", 1, 0, 0), at("2", "wrong", 1, 0, 1)}, []bool{true, false}},
	} {
		got := Tries(course(t), c.history)
		if len(got) != len(c.want) {
			t.Errorf("%s: %d tries, want %d", c.name, len(got), len(c.want))
			continue
		}
		for i := range got {
			if got[i].Right != c.want[i] || got[i].Skill != "max-column" {
				t.Errorf("%s: try %d is %+v, want right %v in max-column", c.name, i, got[i], c.want[i])
			}
		}
	}
	gone := store.Past{Template: "no-such-template", Question: "q", Try: 1, Outcome: "right"}
	pause := store.Past{Template: "pause-hot-looks-cold", Question: "first", Try: 1, Outcome: "right"}
	if got := Tries(course(t), []store.Past{gone, pause}); got != nil {
		t.Errorf("tries of what is gone, or of a pause: %v", got)
	}
}

func TestGuesses(t *testing.T) {
	options := make([]problem.Option, 4)
	for _, c := range []struct {
		q    problem.Question
		want float64
	}{
		{problem.Question{Kind: problem.Quantity}, 0.02},
		{problem.Question{Kind: problem.Choice, Options: options}, 0.25},
		{problem.Question{Kind: problem.Choice, Several: true, Options: options}, 1.0 / 15},
		{problem.Question{Kind: problem.Order, Options: options}, 1.0 / 24},
		{problem.Question{Kind: problem.Stop, Options: options[:2]}, 0.3},
		{problem.Question{Kind: problem.Fault, Options: options, Grounds: options[:2]}, 0.125},
	} {
		if got := Guess(&c.q); got < c.want-1e-9 || got > c.want+1e-9 {
			t.Errorf("%s: %v, want %v", c.q.Kind, got, c.want)
		}
	}
}

func TestEverySkillOfAQuestionIsAGoal(t *testing.T) {
	c := course(t)
	goals := map[string]bool{}
	for _, g := range Goals(c) {
		goals[g.ID] = true
		for _, n := range g.Needs {
			if !goals[n] {
				t.Errorf("skill %s needs %s, which comes later or nowhere", g.ID, n)
			}
		}
	}
	for _, i := range Items(c) {
		for _, s := range i.Skills {
			if !goals[s] {
				t.Errorf("%s exercises %s, which is no goal", i.ID, s)
			}
		}
	}
}

func TestPlanBeginsWithTheFirstSkill(t *testing.T) {
	c := course(t)
	p := PlanFor(c, nil, monday)
	if !p.Any || p.Next.Skill != p.Goals[0].ID || p.Next.Support != mastery.Example {
		t.Errorf("%+v, want the first skill %s with an example", p.Next, p.Goals[0].ID)
	}
	within, ok := p.Within(c, monday, func(_ *problem.Template, skill string) bool { return skill == "conduction-loss" })
	if !ok || within.Skill != "conduction-loss" {
		t.Errorf("within one skill: %+v", within)
	}
	if _, ok := p.Within(c, monday, func(*problem.Template, string) bool { return false }); ok {
		t.Error("a choice among nothing")
	}
}
