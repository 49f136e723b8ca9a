package store

import (
	"encoding/base64"
	"encoding/json"
	"fmt"
	"time"

	"fullyon/grader/class"
)

// stampMaybe reads and writes a time that may not have come yet: an empty text.
type stampMaybe struct{ t *time.Time }

func (s stampMaybe) Scan(v any) error {
	if v == "" {
		*s.t = time.Time{}
		return nil
	}
	return stamp(s).Scan(v)
}

func stampMaybeText(t time.Time) string {
	if t.IsZero() {
		return ""
	}
	return stampText(moment(t))
}

// flag reads a yes or no, which is a number in a column and a truth value in the
// result of a comparison, as each database has it.
type flag struct{ b *bool }

func (f flag) Scan(v any) error {
	switch v := v.(type) {
	case int64:
		*f.b = v != 0
	case bool:
		*f.b = v
	default:
		return fmt.Errorf("yes or no kept as %T", v)
	}
	return nil
}

func number(b bool) int {
	if b {
		return 1
	}
	return 0
}

func scanSecret(r row) ([]byte, error) {
	var text string
	if err := r.Scan(&text); err != nil {
		return nil, err
	}
	return base64.RawStdEncoding.DecodeString(text)
}

func scanFlag(r row) (b bool, err error) {
	err = r.Scan(flag{&b})
	return b, err
}

func scanAccount(r row) (a Account, err error) {
	err = r.Scan(&a.ID, &a.Learner, &a.Name, &a.Login, &a.Passphrase, flag{&a.Card}, flag{&a.Instructor}, flag{&a.Active}, stamp{&a.Made})
	return a, err
}

func scanLeads(r row) (l Leads, err error) {
	err = r.Scan(&l.Class, &l.Title, &l.Role, flag{&l.Setup})
	return l, err
}

func scanSession(r row) (s Session, err error) {
	err = r.Scan(&s.Hash, &s.Account, stamp{&s.Made}, stamp{&s.Seen}, stamp{&s.Expires})
	return s, err
}

func scanClass(r row) (c Class, err error) {
	var secret string
	if err = r.Scan(&c.ID, &c.Title, &secret, &c.Round, flag{&c.Joining}, stamp{&c.Made}, stampMaybe{&c.Ended}); err == nil {
		c.Secret, err = base64.RawStdEncoding.DecodeString(secret)
	}
	return c, err
}

func scanMember(r row) (m Member, err error) {
	err = r.Scan(&m.Class, &m.Title, stampMaybe{&m.Ended}, &m.Account, &m.Learner, &m.Name, &m.Role,
		&m.External, &m.Team, flag{&m.Passphrase}, flag{&m.Card}, flag{&m.Active}, stamp{&m.Made})
	return m, err
}

func scanSet(r row) (p ProblemSet, err error) {
	var rules string
	if err = r.Scan(&p.ID, &p.Class, &rules, &p.Revision, stamp{&p.Made}, stampMaybe{&p.Released}); err == nil {
		err = json.Unmarshal([]byte(rules), &p.Rules)
	}
	return p, err
}

// allowed is an allowance with whom, or which set, it is for.
type allowed struct {
	of string
	a  class.Allowance
}

func scanAllowed(r row) (a allowed, err error) {
	var rules string
	if err = r.Scan(&a.of, &rules); err == nil {
		err = json.Unmarshal([]byte(rules), &a.a)
	}
	return a, err
}

func scanDraw(r row) (d SetDraw, err error) {
	err = r.Scan(&d.Set, &d.Learner, &d.Template, &d.N, &d.Handed)
	return d, err
}

func scanSetAttempt(r row) (a SetAttempt, err error) {
	err = r.Scan(&a.Set, &a.Learner, &a.Template, &a.N, &a.Handed, &a.Attempt, &a.Question, &a.Text, &a.Number, &a.Try,
		&a.Helped, &a.Outcome, &a.Slip, &a.Marks, flag{&a.Withdrawn}, stamp{&a.Made})
	return a, err
}

func scanOverride(r row) (o Override, err error) {
	err = r.Scan(&o.ID, &o.Key, &o.Handed, &o.Question, &o.Attempt, &o.Marks, &o.Reason, &o.Author, stamp{&o.Made})
	return o, err
}

func scanLook(r row) (l Look, err error) {
	err = r.Scan(&l.ID, &l.Class, &l.Set, &l.Handed, &l.Question, &l.Text, &l.State, &l.Reply, &l.Author,
		stamp{&l.Made}, stampMaybe{&l.Answered})
	return l, err
}

func scanDraft(r row) (f Draft, err error) {
	err = r.Scan(&f.Handed, &f.Question, &f.Text, &f.Working, stamp{&f.Made})
	return f, err
}
