package formula

import (
	"strings"
	"testing"

	"github.com/google/go-cmp/cmp"
)

// symbols and values as the engine gives them for a drawn circuit.
var symbols = map[string]string{
	"current_rms": "I_RMS", "rds_on_hot": "R_DS(on)", "ambient": "T_A", "theta_total": "θ_JA", "loss_total": "P",
	"q_g": "Q_G", "q_gs": "Q_GS", "v_on": "V_on", "v_plateau": "V_pl", "duty": "D", "i": "I", "d": "ΔI",
}

var texSymbols = map[string]string{
	"current_rms": "I_{RMS}", "rds_on_hot": "R_{DS(on)}", "ambient": "T_A", "theta_total": `\theta_{JA}`, "loss_total": "P",
	"q_g": "Q_G", "q_gs": "Q_{GS}", "v_on": "V_{on}", "v_plateau": "V_{pl}", "duty": "D", "i": "I", "d": `\Delta I`,
}

var values = map[string]string{
	"current_rms": "2.0 A", "rds_on_hot": "32 mΩ", "ambient": "−5 °C", "theta_total": "62 K/W", "loss_total": "0.13 W",
}

func from(m map[string]string, compound bool) func(string) Shown {
	return func(n string) Shown { return Shown{Text: m[n], Compound: compound} }
}

// Expected texts are written by hand from the rules in the package comment.
func TestText(t *testing.T) {
	for _, c := range []struct{ src, symbols, values string }{
		{"current_rms^2 * rds_on_hot", "I_RMS² × R_DS(on)", "(2.0 A)² × 32 mΩ"},
		{"(q_g - q_gs) / (v_on - v_plateau)", "(Q_G − Q_GS) / (V_on − V_pl)", "(q_g − q_gs) / (v_on − v_plateau)"},
		{"ambient + theta_total * loss_total", "T_A + θ_JA × P", "−5 °C + 62 K/W × 0.13 W"},
		{"theta_total * loss_total + ambient", "θ_JA × P + T_A", "62 K/W × 0.13 W + (−5 °C)"},
		{"loss_total - ambient", "P − T_A", "0.13 W − (−5 °C)"},
		{"-ambient", "−T_A", "−(−5 °C)"},
		{"loss_total / theta_total", "P / θ_JA", "0.13 W / (62 K/W)"},
		{"theta_total / loss_total", "θ_JA / P", "(62 K/W) / 0.13 W"},
		{"sqrt(duty * (i^2 + d^2/12))", "√(D × (I² + ΔI² / 12))", "√(duty × (i² + d² / 12))"},
		{"max(0, a/b - c)", "max(0, a / b − c)", "max(0, a / b − c)"},
		{"r * c * ln(v / (v - w))", "r × c × ln(v / (v − w))", "r × c × ln(v / (v − w))"},
		{"a >= 1.25 * b", "a ≥ 1.25 × b", "a ≥ 1.25 × b"},
		{"a<b", "a < b", "a < b"},
		{"a <= -b", "a ≤ −b", "a ≤ −b"},
		{"p = i^2 * r", "p = I² × r", "p = i² × r"},
		{"a/b*c", "(a / b) × c", "(a / b) × c"},
		{"a*b/c", "a × b / c", "a × b / c"},
		{"a/b/c", "(a / b) / c", "(a / b) / c"},
		{"a/(b*c)", "a / (b × c)", "a / (b × c)"},
		{"a*(b/c)", "a × (b / c)", "a × (b / c)"},
		{"a-(b-c)", "a − (b − c)", "a − (b − c)"},
		{"(a-b)-c", "a − b − c", "a − b − c"},
		{"((a*b))+c", "a × b + c", "a × b + c"},
		{"-a^2", "−a²", "−a²"},
		{"(-a)^2", "(−a)²", "(−a)²"},
		{"-a*b", "−a × b", "−a × b"},
		{"-(a*b)", "−(a × b)", "−(a × b)"},
		{"a*-b", "a × (−b)", "a × (−b)"},
		{"a + -b*c", "a + (−b × c)", "a + (−b × c)"},
		{"--a", "−(−a)", "−(−a)"},
		{"a^b^c", "a^(b^c)", "a^(b^c)"},
		{"(a^2)^3", "(a²)³", "(a²)³"},
		{"a^-12", "a⁻¹²", "a⁻¹²"},
		{"a^1.5", "a^1.5", "a^1.5"},
		{"a^(b/2)", "a^(b / 2)", "a^(b / 2)"},
		{"ln(a)^2", "(ln(a))²", "(ln(a))²"},
		{"abs(a-b)^2", "|a − b|²", "|a − b|²"},
		{"exp(-t/tau)", "exp(−t / tau)", "exp(−t / tau)"},
		{"1.5e-3 * a", "1.5×10⁻³ × a", "1.5×10⁻³ × a"},
		{".5", "0.5", "0.5"},
		{`row(v_on, "max")`, `row(V_on, "max")`, `row(v_on, "max")`},
	} {
		f, err := Parse(c.src)
		if err != nil {
			t.Errorf("%s: %v", c.src, err)
			continue
		}
		if got := f.Text(from(symbols, false)); got != c.symbols {
			t.Errorf("%s in symbols: %q, want %q", c.src, got, c.symbols)
		}
		if got := f.Text(from(values, true)); got != c.values {
			t.Errorf("%s in values: %q, want %q", c.src, got, c.values)
		}
	}
}

func TestTeX(t *testing.T) {
	for _, c := range []struct{ src, want string }{
		{"current_rms^2 * rds_on_hot", `I_{RMS}^{2} \times R_{DS(on)}`},
		{"(q_g - q_gs) / (v_on - v_plateau)", `\frac{Q_G - Q_{GS}}{V_{on} - V_{pl}}`},
		{"ambient + theta_total * loss_total", `T_A + \theta_{JA} \times P`},
		{"sqrt(duty * (i^2 + d^2/12))", `\sqrt{D \times \left(I^{2} + \frac{\Delta I^{2}}{12}\right)}`},
		{"max(0, i/d - v_on)", `\max\left(0, \frac{I}{\Delta I} - V_{on}\right)`},
		{"i * ln(d / (d - v_on))", `I \times \ln\left(\frac{\Delta I}{\Delta I - V_{on}}\right)`},
		{"i >= 1.25 * d", `I \ge 1.25 \times \Delta I`},
		{"i/d*v_on", `\frac{I}{\Delta I} \times V_{on}`},
		{"(i/d*v_on)/q_g", `\frac{(I/\Delta I) \times V_{on}}{Q_G}`},
		{"(i/d)^2", `\left(\frac{I}{\Delta I}\right)^{2}`},
		{"exp(-i/d)", `\exp\left(-\frac{I}{\Delta I}\right)`},
		{"i^(-d/2)", `I^{-\Delta I/2}`},
		{"abs(i)", `\left|I\right|`},
		{"1.5e-3 / i", `\frac{1.5 \times 10^{-3}}{I}`},
		{"other_name", `\mathrm{other\_name}`},
		{`row(v_on, "max")`, `\operatorname{row}(V_{on}, \text{“max”})`},
	} {
		f, err := Parse(c.src)
		if err != nil {
			t.Errorf("%s: %v", c.src, err)
			continue
		}
		if got := f.TeX(from(texSymbols, false)); got != c.want {
			t.Errorf("%s: %q, want %q", c.src, got, c.want)
		}
	}
}

func TestTeXOfValues(t *testing.T) {
	values := map[string]string{"i": `\qty{2.0}{A}`, "r": `\qty{32}{mΩ}`, "t": `\qty{-5}{°C}`}
	for src, want := range map[string]string{
		"i^2 * r": `(\qty{2.0}{A})^{2} \times \qty{32}{mΩ}`,
		"r + t":   `\qty{32}{mΩ} + (\qty{-5}{°C})`,
		"r / t":   `\frac{\qty{32}{mΩ}}{\qty{-5}{°C}}`,
	} {
		f, err := Parse(src)
		if err != nil {
			t.Fatal(err)
		}
		if got := f.TeX(from(values, true)); got != want {
			t.Errorf("%s: %q, want %q", src, got, want)
		}
	}
}

func TestNames(t *testing.T) {
	f, err := Parse(`max(b, a) * b + row(c, "a") + θ2`)
	if err != nil {
		t.Fatal(err)
	}
	if diff := cmp.Diff([]string{"b", "a", "c", "θ2"}, f.Names()); diff != "" {
		t.Error(diff)
	}
}

func TestParseErrors(t *testing.T) {
	for _, c := range []struct {
		src  string
		off  int
		says string
	}{
		{"", 0, "the end where a value is expected"},
		{"a *", 3, "the end where a value is expected"},
		{"a b", 2, `"b" follows a value directly; write a sign such as *`},
		{"2a", 1, "follows a number directly"},
		{"1,5 * a", 1, "write a decimal point"},
		{"(1,5) * a", 2, "write a decimal point"},
		{"1.", 1, "a point must be followed by digits"},
		{"1.2.3", 3, "follows a number directly"},
		{"1e1234", 0, "exponent of ten is too large"},
		{"(a + b", 0, `"(" is never closed`},
		{"a + b)", 5, "')' closes nothing"},
		{"a < b < c", 6, "a second comparison"},
		{"(a < b) * c", 3, "a comparison inside brackets"},
		{"a ? b : c", 2, `"?" cannot stand in a formula`},
		{"a²^3", 3, "a power directly after a power"},
		{"√2", len("√"), "√ needs brackets"},
		{"|a", 0, `"|" is never closed`},
		{"sqrt(a, b)", 0, "sqrt takes one argument, not 2"},
		{"f()", 0, "nothing in its brackets"},
		{"f(a,)", 4, "where a value is expected"},
		{`"max"`, 0, "can only be an argument"},
		{`f("max)`, 2, "never closed; add \""},
		{`f("a\b")`, 4, "cannot stand in a quoted text"},
		{`ln("max")`, 0, "ln takes a number"},
		{"a\xff", 1, "cannot stand in a formula"},
		{strings.Repeat("(", 60) + "a" + strings.Repeat(")", 60), 50, "nested more than 50 deep"},
		{strings.Repeat("-", 60) + "a", 50, "nested more than 50 deep"},
		{"a" + strings.Repeat("+a", 1000), 2000, "longer than 2000 bytes"},
	} {
		_, err := Parse(c.src)
		off, ok := Offset(err)
		if !ok || off != c.off || !strings.Contains(err.Error(), c.says) {
			t.Errorf("%.30q: error %v, want offset %d and %q", c.src, err, c.off, c.says)
		}
	}
}

func TestTextSymbol(t *testing.T) {
	for tex, want := range map[string]string{
		`R_{DS(on)}`: "R_DS(on)", `\theta_{JA}`: "θ_JA", `T_J`: "T_J", `\Delta T`: "ΔT", `\Delta I_L`: "ΔI_L",
		`V_{GS(th)}`: "V_GS(th)", `t_{\text{on}}`: "t_on", `\tau`: "τ", `I^2`: "I²", `I_{RMS}^{2}`: "I_RMS²",
		`P`: "P", "": "", `\`: "", `x^`: "x^",
	} {
		if got := TextSymbol(tex); got != want {
			t.Errorf("%s: %q, want %q", tex, got, want)
		}
	}
}
