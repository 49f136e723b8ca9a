package store

import (
	"bytes"
	"crypto/rand"
	"encoding/base32"
	"encoding/json"
	"fmt"
	"strings"
	"time"
)

var idEncoding = base32.NewEncoding("abcdefghijklmnopqrstuvwxyz234567").WithPadding(base32.NoPadding)

// newID returns 16 random bytes as 26 letters and digits.
func newID() string {
	var b [16]byte
	rand.Read(b[:]) // never fails
	return idEncoding.EncodeToString(b[:])
}

// clean makes text that both databases can keep.
func clean(s string) string {
	return strings.ReplaceAll(strings.ToValidUTF8(s, "\ufffd"), "\x00", "\ufffd")
}

func cleanJSON(what string, j json.RawMessage) (string, error) {
	j = bytes.ToValidUTF8(j, []byte("\ufffd"))
	if !json.Valid(j) {
		return "", invalid("%s is not JSON", what)
	}
	return string(j), nil
}

// stamp reads and writes a time as text.
type stamp struct{ t *time.Time }

func (s stamp) Scan(v any) error {
	text, ok := v.(string)
	if !ok {
		return fmt.Errorf("time kept as %T", v)
	}
	t, err := time.Parse(stampLayout, text)
	*s.t = t
	return err
}

func stampText(t time.Time) string { return t.UTC().Format(stampLayout) }

func scanLearner(r row) (l Learner, err error) {
	err = r.Scan(&l.ID, &l.Name, stamp{&l.Made})
	return l, err
}

func scanSource(r row) (s Source, err error) {
	err = r.Scan(&s.Hash, &s.Template, &s.Text)
	return s, err
}

func scanHanded(r row) (h Handed, err error) {
	var kept string
	err = r.Scan(&h.ID, &h.Learner, &h.Key, &h.Template, &h.Source, &h.Program, &h.Seed, &kept, &h.Why, stamp{&h.Made})
	h.Kept = json.RawMessage(kept)
	return h, err
}

func scanAttempt(r row) (a Attempt, err error) {
	var result string
	err = r.Scan(&a.ID, &a.Handed, &a.Question, &a.Key, &a.Number, &a.Try, &a.Helped, &a.Text, &a.Working,
		&a.Outcome, &a.Slip, &a.Marks, &result, stamp{&a.Made})
	a.Result = json.RawMessage(result)
	return a, err
}

func scanOpened(r row) (o Opened, err error) {
	err = r.Scan(&o.ID, &o.Handed, &o.Question, &o.What, &o.Number, stamp{&o.Made})
	return o, err
}

func scanPast(r row) (p Past, err error) {
	err = r.Scan(&p.Seq, &p.Attempt, &p.Handed, &p.Template, &p.Source, &p.Question, &p.Text, &p.Number, &p.Try, &p.Helped,
		&p.Outcome, &p.Slip, &p.Marks, &p.Withdrawn, stamp{&p.Made})
	return p, err
}

func scanProgress(r row) (p Progress, err error) {
	err = r.Scan(&p.Template, &p.Handed, &p.Attempts, &p.Questions, &p.RightFirstTry, stamp{&p.Last})
	return p, err
}

func scanPauseMet(r row) (p PauseMet, err error) {
	err = r.Scan(&p.Pause, &p.Times, stamp{&p.Last})
	return p, err
}
