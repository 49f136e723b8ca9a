package web

import (
	"html/template"
	"net/http"

	"fullyon/grader/problem"
	"fullyon/lessons"
)

// cardStep is one step of the sizing as the card has it.
type cardStep struct {
	title string
	do    string
	names []string // of the engine, whose formulas are shown
	row   string   // what to look for on datasheet or label
	thumb string   // rule of thumb; empty for none
}

// cardSteps are the sizing in order. The formulas come from the engine.
var cardSteps = []cardStep{
	{"Current", "Take the load at the highest supply voltage. A cold lamp, a jammed motor and an empty capacitor draw more at first.", []string{"running_current"},
		"label: A, W or Ω; a motor's stall current", "a cold lamp draws about 10 times its current"},
	{"Voltage", "Compare the drain with its rating. A freewheel diode adds its $V_F$.", []string{"vds_stress"},
		"$V_{DSS}$, absolute maximum", "$V_{DSS}$ at least 1.25 times the highest voltage"},
	{"Gate", "What does the gate really get? Pin resistor and pull-down divide it. It stays within its rating and reaches a row of $R_{DS(on)}$.", []string{"vgs_on"},
		"$V_{GS}$, absolute maximum; the row of $R_{DS(on)}$ at or below the gate's voltage; not $V_{GS(th)}$", ""},
	{"Heat", "Max column, times the ratio when hot. Go round until it settles.", []string{"loss_conduction", "junction_temperature"},
		"$R_{DS(on)}$ max; its ratio over temperature; $\\theta_{JA}$; $T_{J,max}$", "stop 25 K below the rated junction temperature"},
	{"Gate resistors", "One between pin and gate, one from gate to source.", []string{"gate_resistor_min_recommended", "pull_down_max"},
		"pin: recommended and absolute current; $Q_G$; $C_{rss}$; lowest $V_{GS(th)}$", "10 kΩ to 100 kΩ from gate to source"},
	{"Kick", "Each coil and motor has a diode, its stripe at the plus. It takes over the whole current.", []string{"inductive_energy", "freewheel_decay_time"},
		"diode: $V_{RRM}$, $I_F$, $V_F$", "diode rated 1.25 times the supply"},
	{"Fast switching", "Edges make heat as well, each time.", []string{"loss_switching", "loss_total"},
		"$Q_{GD}$, $Q_{GS}$, plateau", "both edges at most 5 % of the period"},
	{"Rush", "A short rush is checked against the pulse.", []string{"pulse_temperature_rise"},
		"$I_{DM}$; the curve of $Z_{th}$", ""},
	{"Heatsink", "What may lie between case and air?", []string{"heatsink_required"},
		"$\\theta_{JC}$; the tab is usually the drain", ""},
	{"Fuse and leads", "The fuse is for the wire. It sits right at the supply.", []string{"wire_drop"},
		"fuse between the load's current and what the wire may carry", "fuse at least 1.25 times the running current"},
	{"Bipolar instead", "It wants a base current, and keeps a voltage.", []string{"base_current", "loss_bjt"},
		"$V_{CE(sat)}$ and the ratio it holds at", "a tenth of the load's current into the base"},
	{"Fails closed", "What stops the load without the switch? A cut-out, an end switch, a plug in reach.", nil, "", ""},
}

// cardCautions are the stock cautions that stand on the card.
var cardCautions = []string{"mains", "heat", "stored-energy", "battery", "static", "motion"}

// cardView is what card.html shows.
type cardView struct {
	Shell
	Steps    []cardStepView
	Cautions []cardCaution
}

type cardStepView struct {
	Title          string
	Do, Row, Thumb template.HTML
	Formulas       []cardFormula
}

type cardFormula struct {
	Symbol, Formula template.HTML
	ID, Meaning     string
}

type cardCaution struct{ Title, Text string }

// line renders a line of the card, whose symbols are formulas.
func line(markdown string) template.HTML { return lessons.Inline(problem.Text{Markdown: markdown}) }

// cardPage is the sizing on one sheet, to be printed: GET /card.
func (s *Server) cardPage(w http.ResponseWriter, r *http.Request) error {
	v := &cardView{Shell: Shell{Title: "Reference card", Here: "glossary", Crumb: []link{{"/glossary", "Glossary"}}}}
	for _, step := range cardSteps {
		c := cardStepView{Title: step.title, Do: line(step.do), Row: line(step.row), Thumb: line(step.thumb)}
		for _, name := range step.names {
			t, err := s.course.Term(name)
			if err != nil {
				continue // an author's own glossary may lack it
			}
			c.Formulas = append(c.Formulas, cardFormula{t.Symbol(), t.Formula(), t.ID, t.Title})
		}
		v.Steps = append(v.Steps, c)
	}
	for _, name := range cardCautions {
		title, text := lessons.Caution(name)
		v.Cautions = append(v.Cautions, cardCaution{title, text})
	}
	return s.render(w, r, http.StatusOK, "card", v)
}
