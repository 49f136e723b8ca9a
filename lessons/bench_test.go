package lessons_test

import (
	"sort"
	"testing"
	"time"

	"fullyon/grader"
	"fullyon/lessons"
)

// BenchmarkDrawAll draws each built-in template in turn; max-ns/draw is the mean
// of the slowest template.
func BenchmarkDrawAll(b *testing.B) {
	course := built(b)
	spent := make([]time.Duration, len(course.Templates))
	times := make([]int, len(course.Templates))
	for n := 0; b.Loop(); n++ {
		i := n % len(course.Templates)
		began := time.Now()
		if _, err := course.Templates[i].Draw(uint64(n)); err != nil {
			b.Fatal(err)
		}
		spent[i] += time.Since(began)
		times[i]++
	}
	worst := time.Duration(0)
	for i := range spent {
		if times[i] > 0 {
			worst = max(worst, spent[i]/time.Duration(times[i]))
		}
	}
	b.ReportMetric(float64(worst), "max-ns/draw")
}

// BenchmarkMarkAll marks the right answer and each slip's own answer to the first
// question of every built-in template; median-ns/mark is over all of them.
func BenchmarkMarkAll(b *testing.B) {
	type job struct {
		text string
		mark func(text string) error
	}
	var jobs []job
	for _, t := range built(b).Templates {
		v, err := t.Draw(1)
		if err != nil {
			b.Fatal(err)
		}
		key := t.Key(v)
		q, a := &t.Questions[0], &key.Answers[0]
		mark := func(text string) error {
			_, err := grader.Mark(t, v, key, grader.Response{q.ID: text})
			return err
		}
		jobs = append(jobs, job{a.Text, mark})
		for i := range a.Slips {
			jobs = append(jobs, job{a.Slips[i].Text, mark})
		}
	}
	spent := make([]time.Duration, len(jobs))
	times := make([]int, len(jobs))
	for n := 0; b.Loop(); n++ {
		i := n % len(jobs)
		began := time.Now()
		if err := jobs[i].mark(jobs[i].text); err != nil {
			b.Fatal(err)
		}
		spent[i] += time.Since(began)
		times[i]++
	}
	var means []float64
	for i := range spent {
		if times[i] > 0 {
			means = append(means, float64(spent[i])/float64(times[i]))
		}
	}
	sort.Float64s(means)
	b.ReportMetric(means[len(means)/2], "median-ns/mark")
}

func built(b *testing.B) *lessons.Course {
	b.Helper()
	course, err := lessons.Built()
	if err != nil {
		b.Fatal(err)
	}
	return course
}
