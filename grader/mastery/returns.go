package mastery

import "time"

// pauseDays are the days after which a safety pause that was met comes back: after
// the first time, the second, and every time from the third on. Growing intervals
// keep it in mind without wearing it out.
var pauseDays = [...]int{3, 10, 30}

// Returns tells whether a pause that was met so many times, last at last, is to be
// asked again. Days are those of the calendar where now is told. A pause that was
// never met does not return: it stands there anyway.
func Returns(times int, last, now time.Time) bool {
	if times < 1 {
		return false
	}
	due := midnight(last.In(now.Location())).AddDate(0, 0, pauseDays[min(times, len(pauseDays))-1])
	return !midnight(now).Before(due)
}

// SameDay tells whether two times lie on one day of the calendar where now is told.
func SameDay(t, now time.Time) bool { return midnight(t.In(now.Location())).Equal(midnight(now)) }

func midnight(t time.Time) time.Time {
	y, m, d := t.Date()
	return time.Date(y, m, d, 0, 0, 0, 0, t.Location())
}
