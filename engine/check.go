package engine

import (
	"math"
	"strings"

	"fullyon/engine/si"
)

// Check is one question put to a circuit, with its answer.
type Check struct {
	ID       string
	Question string // in plain words
	Verdict  Verdict
	Value    si.Quantity // what the circuit comes to; zero where there is none
	Limit    si.Quantity // what it is held against; zero where there is none
	Ratio    si.Quantity // value over limit (temperatures: as rises above the air); zero where there is none
	Edges    []float64   // the ratios at which the verdict changes, rising
	Most     bool        // Limit is the most that Value may be; else the least
	Because  string      // the reason in one sentence, with numbers; a margin is stated
	Formula  string      // with symbols, in plain text
	Numbers  string      // the same with this circuit's numbers
	Row      string      // the lines of the datasheet that it leans on
	Mend     string      // what would make it hold, computed; empty where it holds already
}

// Headroom is how many times the value would fit the limit: above 1 it is
// inside. 0 where there is no ratio.
func (c *Check) Headroom() float64 {
	if !c.Ratio.Known() {
		return 0
	}
	if c.Most {
		return 1 / c.Ratio.Value
	}
	return c.Ratio.Value
}

// Slack is by how many times the ratio could worsen before the check no longer
// holds; below 1 where it does not. +Inf where there is no ratio.
func (c *Check) Slack() float64 {
	if !c.Ratio.Known() || len(c.Edges) == 0 {
		return math.Inf(1)
	}
	if c.Most {
		return c.Edges[0] / c.Ratio.Value
	}
	return c.Ratio.Value / c.Edges[len(c.Edges)-1]
}

// CheckKind is a check by its id and question, without a circuit.
type CheckKind struct {
	ID       string
	Question string

	applies func(*Sizing) bool // nil: always
	judge   func(*judgement)
}

// checkKinds are all checks, causes before consequences, so that the first of
// the worst is the one that decides.
var checkKinds = []CheckKind{
	{ID: "extra_low_voltage", Question: "Is the supply within extra-low voltage?", judge: judgeExtraLowVoltage},
	{ID: "drain_voltage", Question: "Does the part stand the voltage from drain to source?", judge: judgeDrainVoltage},
	{ID: "gate_rating", Question: "Does the gate stand the voltage that turns it on?", judge: judgeGateRating},
	{ID: "pin_overvoltage", Question: "Is the pin kept from voltages above its own supply?", applies: directHighSide, judge: judgePinOvervoltage},
	{ID: "fully_on", Question: "Does the gate voltage turn the part fully on?", judge: judgeFullyOn},
	{ID: "turns_off", Question: "Does the gate voltage turn the part off again?", applies: offLevelMatters, judge: judgeTurnsOff},
	{ID: "held_off", Question: "Is the gate held off while the supply comes up?", judge: judgeHeldOff},
	{ID: "pin_current", Question: "Can the pin give the current that the gate takes at first?", applies: pinDrivesGate, judge: judgePinCurrent},
	{ID: "running_current", Question: "Can the part carry the running current?", applies: currentFlows, judge: judgeRunningCurrent},
	{ID: "peak_current", Question: "Can the part carry the highest current of the load?", applies: loadRushes, judge: judgePeakCurrent},
	{ID: "inrush", Question: "Does the silicon stay cool enough through the rush of current?", applies: loadInrushes, judge: judgeInrush},
	{ID: "runaway", Question: "Does the temperature settle?", applies: heatKnown, judge: judgeRunaway},
	{ID: "junction", Question: "Does the silicon stay below its highest temperature?", judge: judgeJunction},
	{ID: "stall", Question: "Does the part survive a motor that is held still?", applies: isMotor, judge: judgeStall},
	{ID: "heatsink", Question: "Is the way for the heat into the air good enough?", judge: judgeHeatsink},
	{ID: "edges", Question: "Are the edges short against the period?", applies: isSwitched, judge: judgeEdges},
	{ID: "switching_loss", Question: "Does the heat of the edges leave room at this frequency?", applies: isSwitched, judge: judgeSwitchingLoss},
	{ID: "freewheel", Question: "Has the load's current a way to go when the switch opens?", applies: isInductive, judge: judgeFreewheel},
	{ID: "avalanche", Question: "Can the part itself swallow the kick of the load?", applies: (*Sizing).unclamped, judge: judgeAvalanche},
	{ID: "supply_current", Question: "Can the supply give the running current?", applies: supplyLimited, judge: judgeSupplyCurrent},
	{ID: "fuse", Question: "Does the fuse carry the load and protect the wires?", applies: fused, judge: judgeFuse},
	{ID: "wiring", Question: "Do the wires carry the current?", applies: wired, judge: judgeWiring},
	{ID: "stuck_on", Question: "What stops the load if the switch stays closed?", judge: judgeStuckOn},
}

// Checks lists all checks by id and question, in the order of a report.
func Checks() []CheckKind { return append([]CheckKind(nil), checkKinds...) }

// Check puts one question to the circuit; false where the id is unknown or the
// question does not apply, as that of a freewheel diode to a heater.
func (s *Sizing) Check(id string) (Check, bool) { return s.check(id, false) }

// Judge is Check without the sentences and formulas, for those who weigh many
// circuits: a tenth of the work.
func (s *Sizing) Judge(id string) (Check, bool) { return s.check(id, true) }

func (s *Sizing) check(id string, brief bool) (Check, bool) {
	for i := range checkKinds {
		if k := &checkKinds[i]; k.ID == id {
			if s.outside() || k.applies != nil && !k.applies(s) {
				return Check{}, false
			}
			return k.run(s, brief), true
		}
	}
	return Check{}, false
}

// Checks puts all questions that apply, in the order of a report; none to a
// circuit that is refused.
func (s *Sizing) Checks() []Check {
	if s.outside() {
		return nil
	}
	out := make([]Check, 0, len(checkKinds))
	for i := range checkKinds {
		if k := &checkKinds[i]; k.applies == nil || k.applies(s) {
			out = append(out, k.run(s, false))
		}
	}
	return out
}

// Deciding is the check that decides: of those with the worst verdict the first,
// since causes stand before consequences; where all is within its limit, the one
// with the least slack. Nil where there are no checks.
func Deciding(checks []Check) *Check {
	var worst *Check
	for i := range checks {
		c := &checks[i]
		switch {
		case worst == nil || c.Verdict.Worse(worst.Verdict):
			worst = c
		case c.Verdict == worst.Verdict && c.Verdict.OK() && c.Slack() < worst.Slack():
			worst = c
		}
	}
	return worst
}

func (k *CheckKind) run(s *Sizing, brief bool) Check {
	j := &judgement{s: s, brief: brief, Check: Check{ID: k.ID, Question: k.Question, Verdict: Unknown}}
	k.judge(j)
	if j.source != "" && j.Formula == "" && !brief {
		j.Formula, j.Numbers = s.symbols(j.source), s.numbers(j.source)
		if j.Numbers != "" && j.result != "" {
			j.Numbers += " = " + j.result
		}
	}
	if j.Verdict != Tight && j.Verdict != Fails {
		j.Mend = ""
	}
	return j.Check
}

// judgement is a check while it is being answered.
type judgement struct {
	Check
	s      *Sizing
	brief  bool   // nobody will read the sentences
	source string // the formula, in the notation of package formula
	result string // what it comes to, where the formula does not name that
}

// q is a value that need has found.
func (j *judgement) q(n ID) float64 { return j.s.q(n) }

// t prints a value for a sentence.
func (j *judgement) t(n ID) string { return j.words(j.s.q(n), table[n].Dim) }

// words prints a value for a sentence.
func (j *judgement) words(v float64, d si.Dim) string {
	if j.brief {
		return ""
	}
	return inWords(v, d)
}

// need tells whether all values can be had. Where one cannot, the check is
// unknown and says what is missing; heat that runs away makes it fail.
func (j *judgement) need(ids ...ID) bool {
	for _, n := range ids {
		if j.s.has(n) {
			continue
		}
		a := j.s.absent[n]
		if a.Because == Runaway {
			j.Verdict, j.Because = Fails, "No temperature below 1000 °C is reached at which the part settles, see runaway."
			return false
		}
		j.Verdict, j.Because = Unknown, "This cannot be told: "+a.Because+lookFor(a.Needs)+"."
		return false
	}
	return true
}

// lookFor says which line of a datasheet gives a missing value.
func lookFor(name string) string {
	n, ok := byName[name]
	if !ok || n >= inputCount {
		return ""
	}
	d := &table[n]
	if !strings.HasPrefix(d.input.Path, "part.") {
		return ""
	}
	return "; look in the datasheet for the line " + d.symbolText
}

// usualMargin is the share by which a rating should exceed its stress: common practice.
const usualMargin = 1.25

// near is the relative difference within which a value counts as at its limit,
// so that no processor's rounding decides a verdict.
const near = 1e-9

// most judges a value that may be at most limit, and should stay below it by margin (1: none).
func (j *judgement) most(value, limit, margin float64, d si.Dim) {
	j.Value, j.Limit, j.Most = si.Of(value, d), si.Of(limit, d), true
	j.rate(value, limit, 1/margin)
}

// least judges a value that must be at least limit, and should exceed it by margin.
func (j *judgement) least(value, limit, margin float64, d si.Dim) {
	j.Value, j.Limit, j.Most = si.Of(value, d), si.Of(limit, d), false
	j.rate(value, limit, margin)
}

// rate sets ratio, edges and verdict. The ratio must lie on the good side of 1,
// and on the good side of comfort to hold without being tight.
func (j *judgement) rate(value, limit, comfort float64) {
	if limit <= 0 {
		j.Verdict = Fails
		if j.Most && value <= limit || !j.Most && value >= limit {
			j.Verdict = Holds
		}
		return
	}
	r := value / limit
	j.Ratio = si.Of(r, si.One)
	inside := func(edge float64) bool {
		if j.Most {
			return r <= edge*(1+near)
		}
		return r >= edge*(1-near)
	}
	switch {
	case !inside(1):
		j.Verdict = Fails
	case !inside(comfort):
		j.Verdict = Tight
	default:
		j.Verdict = Holds
	}
	switch {
	case comfort < 1:
		j.Edges = []float64{comfort, 1}
	case comfort > 1:
		j.Edges = []float64{1, comfort}
	default:
		j.Edges = []float64{1}
	}
}

// as picks the sentence that suits the verdict.
func (j *judgement) as(holds, tight, fails string) string {
	switch j.Verdict {
	case Holds:
		return holds
	case Tight:
		return tight
	}
	return fails
}

// rowOf names lines of the datasheet with their values.
func (j *judgement) rowOf(ids ...ID) string {
	var b strings.Builder
	for _, n := range ids {
		if !j.s.given(n) {
			continue
		}
		if b.Len() > 0 {
			b.WriteString(", ")
		}
		b.WriteString(table[n].symbolText + " " + j.t(n))
	}
	return b.String()
}

// resistanceRow names the row of R_DS(on) that serves; empty where none does.
func (j *judgement) resistanceRow() string {
	if !j.s.has(RDSOnCold) {
		return ""
	}
	r, _ := j.s.row()
	text := "R_DS(on) max " + r.Max.String() + " at V_GS " + r.VGS.String()
	if r.ID.Known() {
		text += ", I_D " + r.ID.String()
	}
	return text
}
