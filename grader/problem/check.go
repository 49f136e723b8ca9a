package problem

import (
	"fmt"
	"math"
	"regexp"
	"strings"

	"fullyon/engine"
	"fullyon/engine/read"
	"fullyon/engine/si"
)

// Check proves a template over seeds 0 … seeds−1 against the rules that every
// template keeps:
//
//  1. a draw exists for every seed;
//  2. answer and slips can be told apart;
//  3. drawn values are such as a datasheet prints: at most three figures;
//  4. the same seed gives the same bytes;
//  5. the answers worked out by hand from what is printed lie in the accepted band;
//  6. the answer does not stand in the text before marking;
//  7. draws alike in shape can be had for every seed, so that a set is equally hard;
//  8. levels 1 and 2 show at most four datasheet rows and go round a loop once at most.
//
// Each mistake is told once, with the first seed that shows it.
func (t *Template) Check(seeds int) read.Errors {
	c := &checking{t: t, told: map[int]bool{}, shapes: map[string]int{}}
	c.level()
	for seed, failed := uint64(0), 0; seed < uint64(seeds) && failed < hopeless; seed++ {
		v, err := t.Draw(seed)
		if err != nil {
			c.tell(1, seed, "%v; loosen where, widen draw, or set the slips further apart", err)
			failed++
			continue
		}
		c.shapes[v.Shape]++
		c.apart(v)
		c.decimals(v)
		c.byHand(v)
		c.hidden(v)
		if seed < 50 {
			c.same(v)
			c.circuit(v)
		}
	}
	c.shapesHold(seeds)
	return c.errs
}

// hopeless is how many seeds without a draw are enough to stop looking.
const hopeless = 20

type checking struct {
	t      *Template
	errs   read.Errors
	told   map[int]bool
	shapes map[string]int
}

func (c *checking) tell(rule int, seed uint64, format string, args ...any) {
	c.tellAt(read.Pos{Line: 1, Col: 1}, rule, fmt.Sprintf("seed %d: ", seed)+format, args...)
}

func (c *checking) tellAt(at read.Pos, rule int, format string, args ...any) {
	if c.told[rule] {
		return
	}
	c.told[rule] = true
	c.errs = append(c.errs, &read.Error{File: c.t.File, Line: at.Line, Col: at.Col, Msg: fmt.Sprintf("rule %d: ", rule) + fmt.Sprintf(format, args...)})
}

// level is rule 8.
func (c *checking) level() {
	if c.t.Level > 2 {
		return
	}
	rounds := 0
	for i := range c.t.steps {
		rounds = max(rounds, c.t.steps[i].round)
	}
	if len(c.t.Rows) > 4 || rounds > 1 {
		c.tellAt(read.Pos{Line: 1, Col: 1}, 8, "level %d shows %d datasheet rows and goes round %d times; at most 4 rows and 1 round suit levels 1 and 2", c.t.Level, len(c.t.Rows), rounds)
	}
}

// apart is rule 2, over again on the finished key.
func (c *checking) apart(v *Values) {
	if err := c.t.apart(v.key); err != nil {
		c.tell(2, v.Seed, "%v", err)
	}
}

// decimals is rule 3.
func (c *checking) decimals(v *Values) {
	for i := range c.t.draws {
		d := &c.t.draws[i]
		if d.values != nil && !shownEnough(v.base[d.slot.at]) {
			c.tell(3, v.Seed, "%s = %s has more figures than a datasheet prints", d.slot.name, d.slot.print(v.base[d.slot.at]))
		}
	}
}

// same is rule 4.
func (c *checking) same(v *Values) {
	again, err := c.t.Draw(v.Seed)
	if err != nil {
		c.tell(4, v.Seed, "the second draw failed: %v", err)
		return
	}
	if a, b := v.fingerprint(), again.fingerprint(); a != b {
		c.tell(4, v.Seed, "two draws differ: %s against %s", a, b)
	}
	if again.Circuit.Part.Name != v.Circuit.Part.Name {
		c.tell(4, v.Seed, "two draws have different parts")
	}
}

// fingerprint is all that a draw consists of, as text.
func (v *Values) fingerprint() string {
	var b strings.Builder
	fmt.Fprint(&b, v.Given(), v.shown, v.Shape)
	for i := range v.key.Answers {
		a := &v.key.Answers[i]
		fmt.Fprint(&b, a.ID, a.Value, a.Low, a.High, a.Also, a.Right, a.Text)
		for j := range a.Slips {
			fmt.Fprint(&b, a.Slips[j].Slip.ID, a.Slips[j].Value)
		}
	}
	return b.String()
}

// circuit proves that the drawn circuit is one that a circuit file could hold.
func (c *checking) circuit(v *Values) {
	if !c.t.circuit {
		return
	}
	if _, err := engine.ReadCircuit("circuit", []byte(engine.WriteCircuit(&v.Circuit))); err != nil {
		c.tell(1, v.Seed, "the drawn circuit cannot be: %v", err)
	}
}

// byHand is rule 5.
func (c *checking) byHand(v *Values) {
	got, err := c.t.byHand(v)
	if err != nil {
		c.tell(5, v.Seed, "%v", err)
		return
	}
	if _, err := c.t.Worked(v); err != nil {
		c.tell(5, v.Seed, "%v", err)
	}
	for id, q := range got {
		if a, ok := v.key.Answer(id); ok && !a.Holds(q.Value) && a.Value.Known() {
			quest, _ := c.t.Question(id)
			c.tellAt(quest.At, 5, "seed %d: question %s worked out by hand from what is printed gives %s, outside the accepted band about %s", v.Seed, id, q.Figures(4), a.Text)
		}
	}
}

// hidden is rule 6.
func (c *checking) hidden(v *Values) {
	p, err := c.t.Page(v)
	if err != nil {
		c.tell(6, v.Seed, "%v", err)
		return
	}
	for i := range p.Questions {
		a := &v.key.Answers[i]
		if a.Value == (si.Quantity{}) {
			continue
		}
		if name, given := c.t.givenAway(v, a.Value); given {
			c.tell(6, v.Seed, "the answer %s to question %s stands in the circuit, as %s", a.Text, a.ID, name)
		}
		for _, text := range []string{p.Situation.Plain(), p.Questions[i].Ask.Plain(), p.Questions[i].Label.Plain()} {
			if contains(text, a.Text) {
				c.tell(6, v.Seed, "the answer %s to question %s stands in the text", a.Text, a.ID)
			}
		}
	}
}

// givenAway tells whether the circuit, which is shown as text, holds the answer
// as a value that was computed for it; a value that was drawn is given anyway.
func (t *Template) givenAway(v *Values, answer si.Quantity) (string, bool) {
	for i := range t.setters {
		w := &t.setters[i]
		if w.input == nil || t.names.index[strings.TrimSpace(w.value.Source)] != nil {
			continue
		}
		q := w.input.Get(&v.Circuit)
		if q.Dim == answer.Dim && math.Abs(q.Value-answer.Value) <= 1e-9*math.Abs(answer.Value) {
			return w.input.Path, true
		}
	}
	return "", false
}

var (
	decimals    = regexp.MustCompile(`^[.,][0-9]`)
	unitFollows = regexp.MustCompile(`^ ?(%|[pnµmkMG]?(V|A|Ω|W|J|s|Hz|F|C|H|m|m²|K|K/W)\b|°C|Ω)`)
)

// contains tells whether a printed quantity stands in a text, not as part of a longer number.
func contains(text, quantity string) bool {
	for from := 0; ; {
		i := strings.Index(text[from:], quantity)
		if i < 0 {
			return false
		}
		i += from
		from = i + 1
		before, after := text[:i], text[i+len(quantity):]
		if before != "" && strings.ContainsRune("0123456789.,", rune(before[len(before)-1])) {
			continue
		}
		if after != "" && strings.ContainsRune("0123456789", rune(after[0])) || decimals.MatchString(after) {
			continue // the beginning of a longer number
		}
		if !strings.Contains(quantity, " ") && unitFollows.MatchString(after) {
			continue // a count is asked, and this is a quantity with a unit
		}
		return true
	}
}

// shapesHold is rule 7: each shape that draws take must be common enough that
// every seed has a draw of it.
func (c *checking) shapesHold(seeds int) {
	for shape, n := range c.shapes {
		if seeds >= 200 && float64(n) < 0.02*float64(seeds) {
			c.tellAt(read.Pos{Line: 1, Col: 1}, 7, "the shape %q comes in %d of %d draws; forbid it in where, or make it commoner, so that a class can have draws of one shape", shape, n, seeds)
		}
	}
	most, best := "", 0
	for shape, n := range c.shapes {
		if n > best || n == best && shape < most {
			most, best = shape, n
		}
	}
	for seed := range uint64(min(seeds, 50)) {
		if v, err := c.t.DrawAlike(seed, most); err != nil || v.Shape != most {
			c.tell(7, seed, "no draw of the shape %q: %v", most, err)
			return
		}
	}
}

// Distinct counts how many of so many draws differ in what they give.
func (t *Template) Distinct(seeds int) int {
	seen := map[string]bool{}
	for seed := range uint64(seeds) {
		if v, err := t.Draw(seed); err == nil {
			seen[fmt.Sprint(v.Given())] = true
		}
	}
	return len(seen)
}
