package engine

import (
	"bytes"
	"cmp"
	"encoding/json"
	"math"
	"runtime"
	"slices"
	"sync"
	"sync/atomic"

	"fullyon/engine/part"
	"fullyon/engine/si"
)

// Ranked is a part of a drawer as it would serve in a circuit.
type Ranked struct {
	Part       *part.Part // in the drawer that was given
	Verdict    Verdict    // of the whole report with this part
	RuledOutBy string     // id of the check that decides against it; empty where the verdict is holds or tight
	Because    string     // the deciding check's reason
	Mend       string     // what would make that check hold; empty where it holds, or nothing would
	Margin     float64    // the smallest headroom of the checks that depend on the part, see Check.Headroom
	MarginOf   string     // id of the check with that headroom; empty where none has a ratio
}

// Ranking are the parts of a drawer, best first.
type Ranking []Ranked

// wrongSide says why a channel does not serve a placement. Both are ruled out by
// the check fully_on, which such a circuit cannot answer at all.
func wrongSide(c *Circuit, ch part.Channel) (because, mend string, wrong bool) {
	switch {
	case c.Placement == HighSide && ch == part.N:
		return "An N-channel part on the high side needs a gate voltage above the supply, which neither a pin nor a level shift gives here, so it is never fully on.",
			"holds with a P-channel part, or with placement: low_side", true
	case c.Placement != HighSide && ch == part.P:
		return "A P-channel part turns on with its gate below its source; on the low side its source would follow the gate, so it is never fully on.",
			"holds with an N-channel part, or with placement: high_side", true
	}
	return "", "", false
}

// aboutPart leaves out of the margin what is the same for every part: a fuse that
// is tight would otherwise make all parts of a drawer look alike.
func aboutPart(id string) bool {
	switch id {
	case "extra_low_voltage", "pin_overvoltage", "pin_current", "supply_current", "fuse", "wiring", "stuck_on", "freewheel":
		return false
	}
	return true
}

// Choose puts every part of a drawer into the circuit in place of its own part and
// ranks them all: by verdict, then by margin, then by name. The parts are judged
// on all processors; the ranking does not depend on how many there are. A circuit
// outside extra-low voltage is refused with every part.
func Choose(c *Circuit, drawer []part.Part) Ranking {
	out := make(Ranking, len(drawer))
	because, refused := Refusal(c)
	var next atomic.Int64
	var wg sync.WaitGroup
	for range min(runtime.GOMAXPROCS(0), len(drawer)) {
		wg.Go(func() {
			trial := *c // each worker changes its own
			for {
				i := int(next.Add(1)) - 1
				if i >= len(drawer) {
					return
				}
				if refused {
					out[i] = Ranked{Part: &drawer[i], Verdict: Refused, RuledOutBy: "extra_low_voltage", Because: because}
					continue
				}
				out[i] = judgePart(&trial, &drawer[i])
			}
		})
	}
	wg.Wait()
	slices.SortStableFunc(out, func(a, b Ranked) int {
		return cmp.Or(cmp.Compare(a.Verdict.rank(), b.Verdict.rank()), cmp.Compare(b.Margin, a.Margin), cmp.Compare(a.Part.Name, b.Part.Name))
	})
	return out
}

// judgePart puts one part into a circuit of the caller's own.
func judgePart(c *Circuit, p *part.Part) Ranked {
	r := Ranked{Part: p}
	if because, mend, wrong := wrongSide(c, p.Channel); wrong {
		r.Verdict, r.RuledOutBy, r.Because, r.Mend, r.MarginOf = Fails, "fully_on", because, mend, "fully_on"
		return r
	}
	c.Part = *p
	checks := NewSizing(c).Checks()
	d := Deciding(checks)
	r.Verdict, r.Because = d.Verdict, d.Because
	if !d.Verdict.OK() {
		r.RuledOutBy, r.Mend = d.ID, d.Mend
	}
	for i := range checks {
		k := &checks[i]
		h := si.Round(k.Headroom(), 10) // 0 for a failed check without a ratio
		if !aboutPart(k.ID) || !k.Ratio.Known() && k.Verdict != Fails || k.Ratio.Value < 0 || math.IsInf(h, 0) {
			continue
		}
		if r.MarginOf == "" || h < r.Margin {
			r.Margin, r.MarginOf = h, k.ID
		}
	}
	return r
}

type rankedJSON struct {
	Part       string  `json:"part"`
	Verdict    Verdict `json:"verdict"`
	RuledOutBy string  `json:"ruled_out_by"`
	Margin     float64 `json:"margin"`
	MarginOf   string  `json:"margin_of,omitempty"`
	Because    string  `json:"because,omitempty"`
	Mend       string  `json:"mend,omitempty"`
}

// MarshalJSON gives the stable form of `fullyon choose --json`.
func (r Ranking) MarshalJSON() ([]byte, error) {
	out := struct {
		Ranked []rankedJSON `json:"ranked"`
	}{make([]rankedJSON, len(r))}
	for i, p := range r {
		out.Ranked[i] = rankedJSON{p.Part.Name, p.Verdict, p.RuledOutBy, p.Margin, p.MarginOf, p.Because, p.Mend}
	}
	return encode(out)
}

// JSON is MarshalJSON over several lines, indented, with a line end.
func (r Ranking) JSON() []byte {
	src, err := r.MarshalJSON()
	var b bytes.Buffer
	if err != nil || json.Indent(&b, src, "", "  ") != nil {
		return nil // only a margin that is not finite could lead here, and Check.Headroom has none
	}
	b.WriteByte('\n')
	return b.Bytes()
}
