package mastery

import (
	"testing"
	"time"

	"pgregory.net/rapid"
)

func TestReturns(t *testing.T) {
	east := time.FixedZone("east", 9*3600)
	last := time.Date(2027, 2, 26, 21, 30, 0, 0, time.UTC)
	for _, c := range []struct {
		name  string
		times int
		now   time.Time
		want  bool
	}{
		{"never met", 0, last.AddDate(1, 0, 0), false},
		{"at once", 1, last, false},
		{"two days later", 1, last.AddDate(0, 0, 2), false},
		{"on the morning of the third day", 1, time.Date(2027, 3, 1, 6, 0, 0, 0, time.UTC), true},
		{"met twice, nine days later", 2, last.AddDate(0, 0, 9), false},
		{"met twice, ten days later", 2, last.AddDate(0, 0, 10), true},
		{"met three times, ten days later", 3, last.AddDate(0, 0, 10), false},
		{"met three times, thirty days later", 3, last.AddDate(0, 0, 30), true},
		{"met often, twenty-nine days later", 12, last.AddDate(0, 0, 29), false},
		{"met often, thirty days later", 12, last.AddDate(0, 0, 30), true},
		{"a clock that was set back", 1, last.AddDate(0, 0, -5), false},
		{"met on the 27th there, so the third day is 2 March", 1, time.Date(2027, 3, 1, 23, 0, 0, 0, east), false},
		{"and on that day it is due", 1, time.Date(2027, 3, 2, 0, 30, 0, 0, east), true},
	} {
		if got := Returns(c.times, last, c.now); got != c.want {
			t.Errorf("%s: %v, want %v", c.name, got, c.want)
		}
	}
}

// Once due, a pause stays due until it is met again; and the oftener it was met,
// the later it comes.
func TestReturnsGrow(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		times := rapid.IntRange(1, 9).Draw(t, "times")
		last := time.Unix(int64(rapid.IntRange(0, 1<<31).Draw(t, "last")), 0).UTC()
		now := last.Add(time.Duration(rapid.IntRange(0, 60*24).Draw(t, "hours")) * time.Hour)
		due := Returns(times, last, now)
		if due && !Returns(times, last, now.Add(time.Hour)) {
			t.Fatalf("due at %v, and an hour later no more", now)
		}
		if Returns(times+1, last, now) && !due {
			t.Fatalf("met %d times it is not due, met once more it is", times)
		}
	})
}

func TestSameDay(t *testing.T) {
	now := time.Date(2027, 3, 1, 0, 30, 0, 0, time.UTC)
	if SameDay(now.Add(-time.Hour), now) || !SameDay(now.Add(23*time.Hour), now) {
		t.Error("days do not end at midnight")
	}
}
