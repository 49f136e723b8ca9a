package web

import (
	"crypto/rand"
	"net/http"
	"slices"
	"strconv"
	"strings"

	"fullyon/grader/problem"
)

// newKey is a submission key: it tells a form that is sent twice from two answers.
func newKey() string { return rand.Text() }

// maxKey is the length beyond which a key was not made here.
const maxKey = 64

// parse reads a form; the error of a body too long is a *http.MaxBytesError.
func parse(r *http.Request) error {
	if err := r.ParseForm(); err != nil {
		if explain(err) != nil {
			return err
		}
		return badRequest("The form did not arrive whole. Go back and send it again.")
	}
	return nil
}

// formKey reads a form and gives its key.
func formKey(r *http.Request) (string, error) {
	if err := parse(r); err != nil {
		return "", err
	}
	key := r.PostForm.Get("key")
	if key == "" || len(key) > maxKey {
		return "", badRequest("The form came without the key that tells it from a second sending. Load the page again and send your answer from there.")
	}
	return key, nil
}

// typed is the answer in a form, in the writing that marking reads. The
// complaint, if any, is about a form that holds no answer yet.
func typed(r *http.Request, q *problem.Question) (text, complaint string) {
	switch q.Kind {
	case problem.Choice, problem.Stop:
		return strings.Join(r.PostForm["text"], ","), ""
	case problem.Order:
		return places(r, q)
	case problem.Verdict, problem.Fault, problem.Part:
		return both(r)
	}
	return r.PostForm.Get("text"), ""
}

// places reads the place that each step of an order was given.
func places(r *http.Request, q *problem.Question) (text, complaint string) {
	at := make([]string, len(q.Options))
	given := 0
	for _, o := range q.Options {
		value := r.PostForm.Get("place-" + o.ID)
		if value == "" {
			continue
		}
		given++
		n, err := strconv.Atoi(value)
		if err != nil || n < 1 || n > len(at) {
			return "", "Places go from 1 to " + strconv.Itoa(len(at)) + "."
		}
		if at[n-1] != "" {
			return "", "Place " + value + " is given twice. Each step needs a place of its own."
		}
		at[n-1] = o.ID
	}
	if given > 0 && given < len(at) {
		return "", "Give every step a place, from 1 to " + strconv.Itoa(len(at)) + "."
	}
	if given == 0 {
		return "", ""
	}
	return strings.Join(at, ","), ""
}

// chosen tells which options a text names, and at which place.
func chosen(text, id string) (place int, yes bool) {
	i := slices.Index(strings.Split(text, ","), id)
	return i + 1, i >= 0
}
