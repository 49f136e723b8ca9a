package mastery

import (
	"fmt"
	"slices"
	"time"
)

// Goal is a skill of the course: where it stands in the path and what it needs first.
type Goal struct {
	ID    string
	Title string
	Needs []string
}

// Item is a template that exercises skills.
type Item struct {
	ID     string
	Task   string
	Level  int
	Skills []string
}

// Support is how much of the working is shown with a problem.
type Support string

// Support fades as a skill grows.
const (
	Example Support = "example" // the whole worked answer first
	Faded   Support = "faded"   // some steps are left open
	Bare    Support = "bare"
)

// Choice is what comes next, and why.
type Choice struct {
	Template string
	Skill    string
	Support  Support
	Why      string // "This one because: …", one clause
}

// blocked is how many tries of one skill may follow one another before methods must change.
const blocked = 3

// Next chooses the next problem. Skills whose day has come return first, so that
// what was learnt stays; then the first skill of the path that is not yet
// mastered and whose needs are met; a weak one before a new one. No two problems
// in a row ask for the same method, once the skill in hand has had its first few.
// It returns false when there is nothing to choose from.
func Next(goals []Goal, items []Item, tries []Try, st State, now time.Time) (Choice, bool) {
	lastTask, run := recent(tries)
	for _, c := range candidates(goals, st, now) {
		fresh := run >= blocked || c.review
		item, ok := pick(items, c.goal.ID, st[c.goal.ID], tries, lastTask, fresh)
		if ok {
			return Choice{Template: item.ID, Skill: c.goal.ID, Support: support(st[c.goal.ID]), Why: c.why}, true
		}
	}
	for _, c := range candidates(goals, st, now) { // rather the same method again than nothing
		if item, ok := pick(items, c.goal.ID, st[c.goal.ID], tries, lastTask, false); ok {
			return Choice{Template: item.ID, Skill: c.goal.ID, Support: support(st[c.goal.ID]), Why: c.why}, true
		}
	}
	return Choice{}, false
}

type candidate struct {
	goal   Goal
	why    string
	review bool
}

// candidates lists the goals in the order in which they want attention.
func candidates(goals []Goal, st State, now time.Time) []candidate {
	var due, shaky, open, rest []candidate
	for _, g := range goals {
		s := st[g.ID]
		switch {
		case s.Standing() == Can && !now.Before(s.Due):
			due = append(due, candidate{g, fmt.Sprintf("you last met “%s” %s ago; it returns today with new numbers", g.Title, ago(now.Sub(s.Last))), true})
		case s.Standing() == Can:
			rest = append(rest, candidate{g, "all that is open is done; this keeps “" + g.Title + "” fresh", true})
		case s.Standing() == Shaky && ready(g, st):
			shaky = append(shaky, candidate{g, "“" + g.Title + "” is shaky: " + s.Wants(), false})
		case ready(g, st) && s.Standing() == Learning:
			open = append(open, candidate{g, "“" + g.Title + "” is half learnt: " + s.Wants(), false})
		case ready(g, st):
			why := "“" + g.Title + "” comes next on the path"
			if len(g.Needs) > 0 {
				why += ", and what it needs you have met"
			}
			open = append(open, candidate{g, why, false})
		}
	}
	slices.SortStableFunc(due, func(a, b candidate) int { return st[a.goal.ID].Due.Compare(st[b.goal.ID].Due) })
	return slices.Concat(due, shaky, open, rest)
}

// readyAt is how probable a needed skill must be before what builds on it opens.
const readyAt = 0.7

func ready(g Goal, st State) bool {
	for _, n := range g.Needs {
		if s := st[n]; s == nil || s.P < readyAt {
			return false
		}
	}
	return true
}

// recent gives the method of the last try and how many tries in a row were of one skill.
func recent(tries []Try) (task string, run int) {
	if len(tries) == 0 {
		return "", 0
	}
	last := tries[len(tries)-1]
	for i := len(tries) - 1; i >= 0 && tries[i].Skill == last.Skill; i-- {
		run++
	}
	return last.Task, run
}

// pick chooses the template of a skill: of the level that suits, the one met
// longest ago, another method than the last where that is asked for.
func pick(items []Item, skill string, s *Skill, tries []Try, lastTask string, fresh bool) (Item, bool) {
	want := level(s)
	best, found := Item{}, false
	rank := func(i Item) [3]int { return [3]int{abs(i.Level - want), met(tries, i.ID), i.Level} }
	for _, i := range items {
		if !slices.Contains(i.Skills, skill) || fresh && i.Task == lastTask {
			continue
		}
		if r, b := rank(i), rank(best); !found || slices.Compare(r[:], b[:]) < 0 {
			best, found = i, true
		}
	}
	return best, found
}

// met is where in the tries a template was last met, counted from 1; 0 for never.
func met(tries []Try, template string) int {
	for i := len(tries) - 1; i >= 0; i-- {
		if tries[i].Template == template {
			return i + 1
		}
	}
	return 0
}

// level suits the difficulty to how well the skill is known.
func level(s *Skill) int {
	switch {
	case s == nil || s.P < 0.4:
		return 1
	case s.P < 0.7:
		return 2
	case s.P < masteredAt || s.Draws < successes:
		return 3
	}
	return 4
}

// support fades: the example whole, then steps left open, then the bare problem.
func support(s *Skill) Support {
	switch {
	case s == nil || s.Tries == 0:
		return Example
	case s.Draws == 0 || s.P < 0.5:
		return Faded
	}
	return Bare
}

func abs(x int) int { return max(x, -x) }

func ago(d time.Duration) string {
	if d < 36*time.Hour {
		return "a day"
	}
	return plural(int((d+12*time.Hour)/(24*time.Hour)), "day", "days")
}

func plural(n int, one, many string) string {
	words := [...]string{"no", "one", "two", "three", "four", "five", "six", "seven", "eight", "nine", "ten", "eleven", "twelve"}
	w := many
	if n == 1 {
		w = one
	}
	if n >= 0 && n < len(words) {
		return words[n] + " " + w
	}
	return fmt.Sprintf("%d %s", n, w)
}
