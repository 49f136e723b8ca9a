package learner

import (
	"maps"
	"slices"
	"time"

	"fullyon/grader/mastery"
	"fullyon/grader/problem"
	"fullyon/lessons"
	"fullyon/web/store"
)

// PauseBefore is the pause that has to be met before a problem; empty for none.
// That is the one of its lesson, the first time; later the one that was met and has
// waited longest for its return, once a day. Problems on paper have none before them.
func PauseBefore(c *lessons.Course, t *problem.Template, met map[string]store.PauseMet, now time.Time) string {
	l := c.Numbered(t.Lesson)
	if l == nil || t.OnPaper {
		return ""
	}
	if l.Pause != "" {
		if _, ok := met[l.Pause]; !ok {
			return l.Pause
		}
	}
	return Returning(c, met, now)
}

// Returning is the pause whose return is due for longest; empty for none, or when
// one was met on this day already.
func Returning(c *lessons.Course, met map[string]store.PauseMet, now time.Time) string {
	found := ""
	for _, id := range slices.Sorted(maps.Keys(met)) {
		m := met[id]
		if mastery.SameDay(m.Last, now) {
			return ""
		}
		if t, err := c.Template(id); err != nil || !t.Pause {
			continue // it was taken out of the course
		}
		if mastery.Returns(m.Times, m.Last, now) && (found == "" || m.Last.Before(met[found].Last)) {
			found = id
		}
	}
	return found
}
