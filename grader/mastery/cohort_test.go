package mastery

import (
	"fmt"
	"math/rand/v2"
	"time"
)

// pupil is a simulated learner who behaves by the model with parameters of their own.
type pupil struct {
	p     Params
	knows map[string]bool
	rng   *rand.Rand
}

func newPupil(seed uint64, goals []Goal) *pupil {
	rng := rand.New(rand.NewPCG(seed, 77))
	l := &pupil{p: Params{Known: 0.1 + 0.4*rng.Float64(), Learn: 0.1 + 0.35*rng.Float64(), Guess: .02, Slip: .05 + .08*rng.Float64()}, knows: map[string]bool{}, rng: rng}
	for _, g := range goals {
		l.knows[g.ID] = rng.Float64() < l.p.Known
	}
	return l
}

// answer is right or not, and something may be learnt at it.
func (l *pupil) answer(skill string) bool {
	right := l.rng.Float64() < l.p.Guess
	if l.knows[skill] {
		right = l.rng.Float64() >= l.p.Slip
	}
	if !l.knows[skill] {
		l.knows[skill] = l.rng.Float64() < l.p.Learn
	}
	return right
}

func chain(n int) (goals []Goal, items []Item) {
	for i := range n {
		id := fmt.Sprint("s", i)
		g := Goal{ID: id, Title: id}
		if i > 0 {
			g.Needs = []string{fmt.Sprint("s", i-1)}
		}
		goals = append(goals, g)
		for lv := 1; lv <= 4; lv++ {
			items = append(items, Item{fmt.Sprint(id, "-", lv), fmt.Sprint(id, lv), lv, []string{id}})
		}
	}
	return goals, items
}

const perDay = 6

// practise follows Next until all is mastered, six problems a day.
func practise(goals []Goal, items []Item, seed uint64) int {
	l := newPupil(seed, goals)
	var tries []Try
	for n := 0; n < 2000; n++ {
		now := day0.AddDate(0, 0, n/perDay).Add(time.Duration(n%perDay) * time.Minute)
		st := Of(tries, Default)
		if all(goals, st) {
			return n
		}
		c, _ := Next(goals, items, tries, st, now)
		tries = append(tries, Try{Skill: c.Skill, Template: c.Template, Task: c.Template, Draw: fmt.Sprint(n), Guess: .02, Right: l.answer(c.Skill), At: now})
	}
	return 2000
}

// inOrder goes through the skills in turn, four problems each, over and over,
// until all is mastered by the same measure.
func inOrder(goals []Goal, seed uint64) int {
	l := newPupil(seed, goals)
	var tries []Try
	for n := 0; n < 2000; n++ {
		now := day0.AddDate(0, 0, n/perDay).Add(time.Duration(n%perDay) * time.Minute)
		if all(goals, Of(tries, Default)) {
			return n
		}
		skill := goals[n/4%len(goals)].ID
		tries = append(tries, Try{Skill: skill, Template: skill, Task: skill, Draw: fmt.Sprint(n), Guess: .02, Right: l.answer(skill), At: now})
	}
	return 2000
}

func all(goals []Goal, st State) bool {
	for _, g := range goals {
		if s := st[g.ID]; s == nil || !(s.P >= masteredAt && s.Draws >= successes && s.Days >= 2) {
			return false
		}
	}
	return true
}
