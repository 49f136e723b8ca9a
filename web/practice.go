package web

import (
	"net/http"
	"net/url"

	"fullyon/grader/mastery"
	"fullyon/grader/problem"
	"fullyon/web/learner"
)

// practiceView is what practice.html shows: what comes next and why, and how
// each skill stands.
type practiceView struct {
	Shell
	Next   *nextView
	Groups []skillGroup
	Key    string
	Any    bool // something was done
}

// nextView is the problem that comes next.
type nextView struct {
	Title, Kind, Why, Help string
}

// skillGroup are the skills of one standing.
type skillGroup struct {
	Title, Say string
	Skills     []skillCard
}

// skillCard is one skill.
type skillCard struct {
	ID, Title, Wants, Due string
	Share                 string // how sure, in words
	Lesson                link
}

// helpSays tells what stands beside a problem.
var helpSays = map[mastery.Support]string{
	mastery.Example: "It comes with a whole worked example first, with other numbers.",
	mastery.Faded:   "Some steps of its working are given, some are left for you.",
	mastery.Bare:    "It comes without help; hints are there when you ask.",
}

// practicePage shows what comes next and how the skills stand: GET /practice.
func (s *Server) practicePage(w http.ResponseWriter, r *http.Request) error {
	who, err := s.who(r)
	if err != nil {
		return err
	}
	p, err := s.plan(r, who)
	if err != nil {
		return err
	}
	v := &practiceView{Shell: Shell{Title: "Practice", Here: "practice"}, Key: newKey(), Any: len(p.Tries) > 0}
	if p.Any {
		t, err := s.course.Template(p.Next.Template)
		if err != nil {
			return err
		}
		v.Next = &nextView{Title: t.Title, Kind: describe(t), Why: p.Next.Why, Help: helpSays[p.Next.Support]}
	}
	v.Groups = s.skillGroups(p)
	return s.render(w, r, http.StatusOK, "practice", v)
}

// plan is where a learner stands.
func (s *Server) plan(r *http.Request, who string) (*learner.Plan, error) {
	past, err := learner.History(r.Context(), s.store, who)
	if err != nil {
		return nil, err
	}
	return learner.PlanFor(s.course, past, s.now()), nil
}

// standings are the groups of skills, what wants attention first.
var standings = []struct {
	standing   mastery.Standing
	title, say string
}{
	{mastery.Shaky, "Shaky", "Was better once, or went wrong of late."},
	{mastery.Learning, "Half learnt", "On the way. Three first-try successes on new numbers, one of them on a later day, make it yours."},
	{mastery.Can, "What I can do", "Each returns after some days, with fresh numbers."},
	{mastery.New, "Not begun", ""},
}

func (s *Server) skillGroups(p *learner.Plan) []skillGroup {
	var out []skillGroup
	for _, st := range standings {
		g := skillGroup{Title: st.title, Say: st.say}
		for _, goal := range p.Goals {
			k := p.State[goal.ID]
			if k.Standing() != st.standing {
				continue
			}
			c := skillCard{ID: goal.ID, Title: goal.Title}
			if st.standing != mastery.New {
				c.Wants = k.Wants()
			}
			if st.standing == mastery.Can {
				c.Due = "returns on " + k.Due.Local().Format("2 January")
			}
			if skill, err := s.course.Skill(goal.ID); err == nil {
				c.Title = skill.Title
				if l := s.course.Numbered(skill.Lesson); l != nil {
					c.Lesson = lessonLink(l)
				}
			}
			g.Skills = append(g.Skills, c)
		}
		if g.Skills != nil {
			out = append(out, g)
		}
	}
	return out
}

// practise hands out what comes next, of one skill if one is named: POST /practice.
func (s *Server) practise(w http.ResponseWriter, r *http.Request) error {
	who, err := s.who(r)
	if err != nil {
		return err
	}
	key, err := formKey(r)
	if err != nil {
		return err
	}
	p, err := s.plan(r, who)
	if err != nil {
		return err
	}
	choice, any := p.Next, p.Any
	if skill := r.PostForm.Get("skill"); skill != "" {
		choice, any = p.Within(s.course, s.now(), func(_ *problem.Template, id string) bool { return id == skill })
		if any {
			choice.Why = "you chose the skill “" + title(p, skill) + "”"
		}
	}
	if !any {
		return badRequest("There is no problem for that skill. Choose another on the page of practice.")
	}
	t, err := s.course.Template(choice.Template)
	if err != nil {
		return err
	}
	done, err := s.done(r, who)
	if err != nil {
		return err
	}
	if id := s.pauseBefore(t, done); id != "" {
		return seeOther(w, r, "/pause/"+id+"?then="+url.QueryEscape(t.ID))
	}
	if k, err := s.unfinished(r, who, t); err != nil {
		return err
	} else if k != nil {
		return seeOther(w, r, "/work/"+k.work.Handed.ID)
	}
	h, err := s.handWith(r, who, key, t, choice.Why+".", help{Support: choice.Support, Gaps: learner.Gaps(p.State[choice.Skill])})
	if err != nil {
		return err
	}
	return seeOther(w, r, "/work/"+h.ID)
}

func title(p *learner.Plan, skill string) string {
	for _, g := range p.Goals {
		if g.ID == skill {
			return g.Title
		}
	}
	return skill
}
