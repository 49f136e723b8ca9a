package web

import (
	"net/http"
	"net/url"
	"slices"
	"testing"

	"fullyon/grader/problem"
)

// pairs finds one question of each paired kind among the built-in templates.
func pairs(t *testing.T, w *site) map[problem.Kind][2]string {
	t.Helper()
	found := map[problem.Kind][2]string{}
	for _, tpl := range w.s.course.Templates {
		for i := range tpl.Questions {
			if k := tpl.Questions[i].Kind; k.Paired() {
				if _, ok := found[k]; !ok {
					found[k] = [2]string{tpl.ID, tpl.Questions[i].ID}
				}
			}
		}
	}
	for _, k := range []problem.Kind{problem.Verdict, problem.Fault, problem.Part} {
		if _, ok := found[k]; !ok {
			t.Errorf("no template asks a question of the kind %s", k)
		}
	}
	return found
}

// answerPair sends both halves of a paired answer.
func (w *site) answerPair(k *task, q, first, ground string) *got {
	w.t.Helper()
	return w.post("/work/"+k.work.Handed.ID+"/answer", url.Values{"key": {newKey()}, "q": {q}, "text": {first}, "ground": {ground}})
}

func TestPairedQuestions(t *testing.T) {
	w := newSite(t)
	for kind, at := range pairs(t, w) {
		k := w.handed(at[0])
		q, _ := k.t.Question(at[1])
		a, _ := k.key.Answer(q.ID)
		page := w.get("/work/" + k.work.Handed.ID)
		page.says("q-"+q.ID, halves[kind][0]).says("q-"+q.ID, halves[kind][1])

		// Half an answer costs nothing, and the half that was chosen stays.
		g := w.answerPair(k, q.ID, a.Right[0], "").want(http.StatusUnprocessableEntity)
		g.says("bad-"+q.ID, "Both halves are asked for")
		if n := len(w.task(k.work.Handed.ID).work.Attempts); n != 0 {
			t.Errorf("%s: half an answer left %d attempts", kind, n)
		}

		// The right choice on a wrong ground earns half.
		wrong := ""
		for i := range q.Grounds {
			if id := q.Grounds[i].ID; !slices.Contains(a.Grounds, id) {
				wrong = id
				break
			}
		}
		g = w.answerPair(k, q.ID, a.Right[0], wrong).want(http.StatusOK)
		g.says("said-"+q.ID, "Not right")
		if got := w.task(k.work.Handed.ID).states[k.t.Place(q)].marks; got != tenth(float64(q.Marks)/2) {
			t.Errorf("%s: %g marks for the right choice on a wrong ground, want half of %d", kind, got, q.Marks)
		}

		// Right on both counts.
		k = w.handed(at[0])
		q, _ = k.t.Question(at[1])
		a, _ = k.key.Answer(q.ID)
		w.answerPair(k, q.ID, a.Right[0], a.Grounds[0]).says("said-"+q.ID, "Right")
	}
}
