package main

import (
	"cmp"
	"context"
	"errors"
	"fmt"
	"math/rand/v2"
	"time"

	"fullyon/engine/read"
	"fullyon/grader"
	"fullyon/grader/mastery"
	"fullyon/grader/problem"
	"fullyon/lessons"
	"fullyon/web/learner"
)

// practiceCmd is practice in a terminal: the records, the choice of what comes next
// and the marking are those of the pages.
type practiceCmd struct {
	What string `arg:"" optional:"" name:"lesson-or-skill" help:"A lesson by its number or id, or a skill by its id; without it what comes next for you."`
	Seed *seed  `placeholder:"N" help:"Seed of the first problem, counted up from there; without it each is drawn at random."`
	recordFlags
}

// Help shows an example.
func (practiceCmd) Help() string {
	return "Example, with the problems of lesson 8:\n\n    fullyon practice 8\n\n" +
		"Type an answer and press Enter. A question mark lists what else can be typed. " +
		"What you answer is kept where fullyon serve keeps it."
}

// Run practises until nothing is left, somebody quits, or the input ends.
func (c practiceCmd) Run(w *world) (err error) {
	course, err := lessons.Built()
	if err != nil {
		return err
	}
	s := &session{w: w, in: w.lines(), skipped: map[string]bool{}}
	if s.keep, s.asked, err = scope(course, c.What); err != nil {
		return err
	}
	at, err := c.place(w)
	if err != nil {
		return err
	}
	// What was typed is kept even when the program is told to stop meanwhile.
	s.ctx = context.WithoutCancel(w.ctx)
	records, err := at.open(s.ctx)
	if err != nil {
		return err
	}
	defer func() { err = cmp.Or(err, records.Close()) }()
	who, err := records.LocalLearner(s.ctx)
	if err != nil {
		return err
	}
	s.desk = &learner.Desk{
		Course: course, Store: records, Learner: who.ID, Rules: grader.DefaultRules,
		Program: version(), Now: time.Now, Seed: c.seeds(),
	}
	para(w.stdout, 0, "Type your answer and press Enter; ? tells what else you can type. quit ends it, and what you did is kept.")
	if err := s.run(); err != nil && !errors.Is(err, errOver) {
		return err
	}
	para(w.stdout, 0, "What you answered is kept in "+at.told+".")
	return nil
}

// seeds gives the seeds of the problems to come.
func (c practiceCmd) seeds() func() uint64 {
	if c.Seed == nil {
		return func() uint64 { return rand.Uint64N(problem.MaxSeed + 1) }
	}
	next := uint64(*c.Seed)
	return func() uint64 {
		now := next
		next = (next + 1) % (problem.MaxSeed + 1)
		return now
	}
}

// scope tells which problems and skills are wanted, and why, in a clause; nil for
// all of them.
func scope(course *lessons.Course, what string) (keep func(*problem.Template, string) bool, why string, err error) {
	if what == "" {
		return nil, "", nil
	}
	if l, err := course.Lesson(what); err == nil {
		return func(t *problem.Template, _ string) bool { return t.Lesson == l.Number }, fmt.Sprintf("you chose lesson %d, %s", l.Number, l.Title), nil
	}
	if k, err := course.Skill(what); err == nil {
		return func(_ *problem.Template, skill string) bool { return skill == k.ID }, "you chose the skill “" + k.Title + "”", nil
	}
	var known []string
	for _, l := range course.Lessons {
		known = append(known, l.ID)
	}
	for _, k := range course.Skills {
		known = append(known, k.ID)
	}
	if near := read.Nearest(what, known); near != "" {
		return nil, "", bad("there is no lesson or skill %q; the nearest is %q", short(what), near)
	}
	return nil, "", bad("there is no lesson or skill %q; see fullyon list lessons and fullyon list skills", short(what))
}

// session is one sitting.
type session struct {
	w       *world
	ctx     context.Context
	in      *lines
	desk    *learner.Desk
	keep    func(*problem.Template, string) bool // nil: all problems
	asked   string                               // why only some are kept
	skipped map[string]bool                      // templates left out for today
	begun   int
}

// errSkip leaves a problem as it stands.
var errSkip = errors.New("left for now")

// run goes from problem to problem.
func (s *session) run() error {
	for {
		plan, err := s.desk.Plan(s.ctx)
		if err != nil {
			return err
		}
		choice, ok := s.choose(plan)
		if !ok {
			para(s.w.stdout, 0, "Nothing is left to practise here for now.")
			return nil
		}
		t, err := s.desk.Course.Template(choice.Template)
		if err != nil {
			return err
		}
		err = s.problem(t, choice, learner.Gaps(plan.State[choice.Skill]))
		if errors.Is(err, errSkip) {
			s.skipped[t.ID] = true
			continue
		}
		if err != nil {
			return err
		}
		if err := s.standing(choice.Skill); err != nil {
			return err
		}
	}
}

// choose is what comes next, among what was asked for and was not skipped.
func (s *session) choose(p *learner.Plan) (mastery.Choice, bool) {
	if s.keep == nil {
		return p.Without(s.desk.Course, s.desk.Now(), s.skipped)
	}
	c, ok := p.Within(s.desk.Course, s.desk.Now(), func(t *problem.Template, skill string) bool {
		return !s.skipped[t.ID] && s.keep(t, skill)
	})
	c.Why = s.asked
	return c, ok
}

// problem works through one problem, and the pause before it.
func (s *session) problem(t *problem.Template, choice mastery.Choice, gaps int) error {
	out := s.w.stdout
	fmt.Fprintf(out, "\n%s\n", t.Title)
	fmt.Fprintf(out, "lesson %d · level %d · about %d min · %s\n", t.Lesson, t.Level, t.Minutes, count(t.Marks(), "mark"))
	para(out, 0, "This one because: "+choice.Why+".")
	if s.begun++; s.begun > 1 {
		if err := s.wait("Enter for it, skip for another, or quit>"); err != nil {
			return err
		}
	}
	if err := s.pauseBefore(t); err != nil {
		return err
	}
	k, err := s.desk.Unfinished(s.ctx, t)
	if err != nil {
		return err
	}
	if k != nil {
		fmt.Fprintln(out)
		para(out, 0, "You began this one on "+k.Work.Handed.Made.Local().Format("2 January")+"; it goes on from there.")
	} else if k, err = s.desk.Hand(s.ctx, t, choice.Why+".", learner.Help{Support: choice.Support, Gaps: gaps}); err != nil {
		return err
	}
	return s.work(k)
}

// wait waits for Enter.
func (s *session) wait(prompt string) error {
	for {
		text, err := s.in.ask(prompt)
		if err != nil {
			return err
		}
		switch text {
		case "":
			return nil
		case "skip":
			return errSkip
		case "quit":
			return errOver
		}
		para(s.w.stdout, 0, "Press Enter alone to begin, or type skip or quit.")
	}
}

// pauseBefore asks the pause that stands before a problem until it is met, each time
// with fresh numbers.
func (s *session) pauseBefore(t *problem.Template) error {
	p, err := s.desk.PauseBefore(s.ctx, t)
	if err != nil || p == nil {
		return err
	}
	fmt.Fprintf(s.w.stdout, "\nA pause first: %s\n", p.Title)
	for {
		k, err := s.desk.Unfinished(s.ctx, p)
		if err != nil {
			return err
		}
		if k == nil {
			if k, err = s.desk.Hand(s.ctx, p, "it stands before a problem that could be built.", learner.Help{}); err != nil {
				return err
			}
		}
		if err := s.work(k); err != nil {
			return err
		}
		if err := s.desk.Met(s.ctx, k); err != nil || k.Right() {
			return err
		}
		fmt.Fprintln(s.w.stdout)
		para(s.w.stdout, 0, "The pause comes once more, drawn anew.")
	}
}

// standings are how a skill stands, in words.
var standings = map[mastery.Standing]string{
	mastery.New: "not begun", mastery.Learning: "half learnt", mastery.Shaky: "shaky", mastery.Can: "you can do it",
}

// standing tells how a skill stands now.
func (s *session) standing(skill string) error {
	plan, err := s.desk.Plan(s.ctx)
	if err != nil {
		return err
	}
	for _, g := range plan.Goals {
		if st := plan.State[skill]; g.ID == skill && st != nil {
			say := "“" + g.Title + "” now: " + standings[st.Standing()]
			if wants := st.Wants(); wants != "" {
				say += "; it wants " + wants
			}
			para(s.w.stdout, 0, say+".")
		}
	}
	return nil
}
