package math

import (
	"encoding/xml"
	"errors"
	"io"
	"strings"
	"testing"
	"unicode/utf8"
)

// inner is the MathML without what every formula has round it.
func inner(t *testing.T, tex string) string {
	t.Helper()
	out, err := Convert(tex, false)
	if err != nil {
		t.Fatalf("%s: %v", tex, err)
	}
	_, out, found := strings.Cut(out, "<semantics><mrow>")
	out, _, ended := strings.Cut(out, "</mrow><annotation")
	if !found || !ended {
		t.Fatalf("%s: no semantics in %s", tex, out)
	}
	return out
}

// short takes attributes of look and the longest tags away, so that the table
// below can be judged by eye; TestAttributes holds what is lost here.
var short = strings.NewReplacer(` mathvariant="normal"`, "!", ` form="prefix" stretchy="false"`, "", ` form="postfix" stretchy="false"`, "",
	` form="prefix"`, " prefix", ` lspace="0" rspace="0"`, " tight", `<mspace width="0.167em"></mspace>`, "␣", `<mspace width="0.1em"></mspace>`, "·", "<mo>\u2061</mo>", "ƒ")

// Expected MathML is written by hand after MathML Core (W3C), 3.3 and 3.4.
func TestConvert(t *testing.T) {
	for _, c := range []struct{ tex, want string }{
		{`P = I^2 \times R`, `<mi>P</mi><mo>=</mo><msup><mi>I</mi><mrow>·<mn>2</mn></mrow></msup><mo>×</mo><mi>R</mi>`},
		{`R_{DS(on)}`, `<msub><mi>R</mi><mrow><mi>DS</mi><mo>(</mo><mi>on</mi><mo>)</mo></mrow></msub>`},
		{`T_J`, `<msub><mi>T</mi><mi!>J</mi></msub>`},
		{`x^2`, `<msup><mi>x</mi><mn>2</mn></msup>`},
		{`x_i`, `<msub><mi>x</mi><mi>i</mi></msub>`},
		{`\theta_{JA}`, `<msub><mi>θ</mi><mi>JA</mi></msub>`},
		{`I_{RMS}^{2}`, `<msubsup><mi>I</mi><mi>RMS</mi><mrow>·<mn>2</mn></mrow></msubsup>`},
		{`\frac{a}{b+1}`, `<mfrac><mi>a</mi><mrow><mi>b</mi><mo>+</mo><mn>1</mn></mrow></mfrac>`},
		{`\sqrt{D}`, `<msqrt><mi>D</mi></msqrt>`},
		{`\sqrt[3]{x}`, `<mroot><mi>x</mi><mn>3</mn></mroot>`},
		{`-x`, `<mo prefix>−</mo><mi>x</mi>`},
		{`a \times -b`, `<mi>a</mi><mo>×</mo><mo prefix>−</mo><mi>b</mi>`},
		{`(-x)`, `<mo>(</mo><mo prefix>−</mo><mi>x</mi><mo>)</mo>`},
		{`(a)-b`, `<mo>(</mo><mi>a</mi><mo>)</mo><mo>−</mo><mi>b</mi>`},
		{`RC\ln(x)`, `<mi>R</mi><mi>C</mi>␣<mi>ln</mi>ƒ<mo>(</mo><mi>x</mi><mo>)</mo>`},
		{`2\unit{A}\unit{s}`, `<mn>2</mn>␣<mrow><mi!>A</mi></mrow>␣<mrow><mi!>s</mi></mrow>`},
		{`(\unit{A})^2`, `<mo>(</mo><mrow><mi!>A</mi></mrow><msup><mo>)</mo><mn>2</mn></msup>`},
		{`\ln x`, `<mi>ln</mi>ƒ␣<mi>x</mi>`},
		{`\Delta I/2`, `<mi!>Δ</mi><mi>I</mi><mo tight>/</mo><mn>2</mn>`},
		{`\qty{32}{mΩ}`, `<mrow><mn>32</mn>␣<mi>mΩ</mi></mrow>`},
		{`\qty{-5}{°C}`, `<mrow><mn>−5</mn>␣<mi>°C</mi></mrow>`},
		{`\qty{1.5e-3}{A}`, `<mrow><mn>1.5</mn><mo>×</mo><msup><mn>10</mn><mn>−3</mn></msup>␣<mi!>A</mi></mrow>`},
		{`\qty{90}{°}`, `<mrow><mn>90</mn><mi!>°</mi></mrow>`},
		{`\unit{A²}`, `<mrow><msup><mi!>A</mi><mn>2</mn></msup></mrow>`},
		{`\unit{µF}`, `<mrow><mi>μF</mi></mrow>`},
		{`\text{a < b}`, "<mtext>a\u00a0&lt;\u00a0b</mtext>"},
		{`\mathrm{rds\_on}`, `<mi>rds_on</mi>`},
		{`f'`, `<msup><mi>f</mi><mrow>·<mo>′</mo></mrow></msup>`},
		{`{}`, `<mrow></mrow>`},
	} {
		if got := short.Replace(inner(t, c.tex)); got != c.want {
			t.Errorf("%s:\n got %s\nwant %s", c.tex, got, c.want)
		}
	}
}

func TestAttributes(t *testing.T) {
	for tex, want := range map[string]string{
		`(x)`:                                    `<mo form="prefix" stretchy="false">(</mo>`,
		`|x|`:                                    `<mo form="postfix" stretchy="false">|</mo>`,
		`\left(x\right.`:                         `<mo form="prefix" fence="true" stretchy="true">(</mo><mrow><mi>x</mi></mrow></mrow>`,
		`a/b`:                                    `<mo lspace="0" rspace="0">/</mo>`,
		`T`:                                      `<mi>T</mi>`,
		`\Delta`:                                 `<mi mathvariant="normal">Δ</mi>`,
		`a,b`:                                    `<mo separator="true">,</mo>`,
		`\sum_{i=1}^n`:                           `<munderover><mo largeop="true" movablelimits="true">∑</mo>`,
		`\max_x`:                                 `<munder><mi>max</mi>`,
		`\mathbf{x}`:                             `<mrow class="math-bold"><mi>x</mi></mrow>`,
		`\bar{x}`:                                `<mover accent="true"><mi>x</mi><mo stretchy="false">¯</mo></mover>`,
		`\dfrac12`:                               `<mstyle displaystyle="true"><mfrac><mn>1</mn><mn>2</mn></mfrac></mstyle>`,
		`\begin{aligned}a&=b\end{aligned}`:       `<mtd class="math-right"><mrow><mi>a</mi></mrow></mtd><mtd class="math-left"><mrow><mo>=</mo>`,
		`\begin{cases}a&\text{if }b\end{cases}`:  `<mtd class="math-case"><mrow><mtext>if`,
		`\begin{bmatrix}1&2\\3&4\\\end{bmatrix}`: `<mtd><mrow><mn>4</mn></mrow></mtd></mtr></mtable>`,
		`\begin{aligned}a\\[b\right]\end{aligned}`: "",
	} {
		out, err := Convert(tex, true)
		if want == "" {
			if err == nil {
				t.Errorf("%s: no error", tex)
			}
			continue
		}
		if err != nil || !strings.Contains(out, want) {
			t.Errorf("%s: %v, %s lacks %s", tex, err, out, want)
		}
	}
}

func TestConvertKeepsSource(t *testing.T) {
	out, err := Convert(`a < b`, true)
	want := `<math xmlns="http://www.w3.org/1998/Math/MathML" display="block"><semantics><mrow>` +
		`<mi>a</mi><mo>&lt;</mo><mi>b</mi></mrow><annotation encoding="application/x-tex">a &lt; b</annotation></semantics></math>`
	if err != nil || out != want {
		t.Errorf("%v\n got %s\nwant %s", err, out, want)
	}
}

// Expected texts are written by hand from the rules in text.go.
func TestText(t *testing.T) {
	for tex, want := range map[string]string{
		`P = I^2 \times R`: "P = I² × R",
		`P = I^2 R_{DS(on)}(1+\alpha(T_J-\qty{25}{°C}))`: "P = I² R_DS(on) (1 + α (T_J − 25 °C))",
		`\frac{Q_G - Q_{GS}}{V_{on} - V_{pl}}`:           "(Q_G − Q_GS) / (V_on − V_pl)",
		`\frac{V}{R} \times t`:                           "(V / R) × t",
		`t = \frac{Q}{I} + t_0`:                          "t = Q / I + t_0",
		`-\frac{a}{b}`:                                   "−(a / b)",
		`\frac{a}{2b}`:                                   "a / (2 b)",
		`\frac{ab}{c}`:                                   "a b / c",
		`\frac{(a+b)c}{d}`:                               "(a + b) c / d",
		`\frac{\ln(a+b)}{\ln\left(c\right)}`:             "ln(a + b) / ln(c)",
		`\sqrt{D\left(I^2+\frac{\Delta I^2}{12}\right)}`: "√(D (I² + ΔI² / 12))",
		`\sqrt[3]{x}`:                                    "³√(x)",
		`e^{-t/\tau}`:                                    "e^(−t / τ)",
		`(\qty{2.0}{A})^2 \times \qty{32}{m\ohm}`:        "(2.0 A)² × 32 mΩ",
		`\qty{2.0}{A}^2`:                                 "(2.0 A)²",
		`\qty{1.5e-3}{K/W}`:                              "1.5 × 10⁻³ K/W",
		`\qty{100}{μF}`:                                  "100 µF",
		`\unit{W/(m·K)}`:                                 "W/(m·K)",
		`\max\left(0, a\right)`:                          "max(0, a)",
		`\ln x`:                                          "ln x",
		`|a-b|^2`:                                        "|a − b|²",
		`90^\circ`:                                       "90°",
		`60\%`:                                           "60%",
		`x^n + x^{ab}`:                                   "x^n + x^(a b)",
		`\bar{V}_{DS}`:                                   "V\u0304_DS",
		`a\,b \quad c`:                                   "a b c",
		`V_{GS} \ge \text{the threshold}`:                "V_GS ≥ the threshold",
		`\sum_{i=1}^{n} x_i`:                             "∑_(i=1)^n x_i",
		`\begin{aligned}P &= I^2 R\\ &= \qty{4}{W}\end{aligned}`: "P = I² R\n= 4 W",
		`\begin{cases}1 & x<0\\0\end{cases}`:                     "{ 1 x < 0; 0 }",
		`\begin{pmatrix}1&2\\3&4\end{pmatrix}`:                   "(1, 2; 3, 4)",
		`\nonsense`:                                              `\nonsense`,
	} {
		if got := Text(tex); got != want {
			t.Errorf("%s: %q, want %q", tex, got, want)
		}
	}
}

func TestErrors(t *testing.T) {
	for _, c := range []struct {
		tex  string
		off  int
		says string
	}{
		{`a + \foo`, 4, `unknown command \foo`},
		{`\frac{a}`, 8, "something is missing at the end"},
		{`\sqrt{a`, 5, "'{' is never closed"},
		{`a}`, 1, "'}' has nothing to belong to"},
		{`a & b`, 2, "'&' has nothing to belong to"},
		{`a \right)`, 2, `'\right' has nothing to belong to`},
		{`T_JA`, 2, "only 'J' would be raised or lowered"},
		{`x^12`, 2, "only '1' would be raised or lowered"},
		{`x^2^3`, 3, "a second '^'"},
		{`x_`, 2, "something is missing at the end"},
		{`x_}`, 2, "'}' where a value is expected"},
		{`50%`, 2, `write \%`},
		{`\left(a`, 0, `\left without \right`},
		{`\left<a\right>`, 5, "'<' is no bracket"},
		{`\qty{two}{A}`, 5, `"two" is not a number`},
		{`\qty{2}{A^x}`, 8, "power of a unit is a whole number"},
		{`\qty{2}{$}`, 8, "cannot read the unit at '$'"},
		{`\qty{2}{}`, 8, "an empty unit"},
		{`\qty 2`, 5, "'{' is expected"},
		{`\begin{align}a\end{align}`, 0, `unknown environment "align"`},
		{`\begin{cases}a`, 0, "never ended"},
		{`\begin{cases}a\end{matrix}`, 19, "make the two alike"},
		{`\`, 0, "a backslash with nothing behind it"},
		{"a\x00", 1, "U+0000 is not allowed"},
		{"a\xff", 1, "is not allowed"},
		{strings.Repeat("{", 70) + strings.Repeat("}", 70), 64, "nested more than 64 deep"},
		{strings.Repeat("a", 10_001), 10_000, "longer than 10000 bytes"},
	} {
		_, err := Convert(c.tex, false)
		var e *Error
		if !errors.As(err, &e) || e.Off != c.off || !strings.Contains(e.Msg, c.says) {
			t.Errorf("%.30s: %v, want offset %d and %q", c.tex, err, c.off, c.says)
		}
	}
}

// elements of MathML Core that the package writes.
var elements = map[string]bool{"math": true, "semantics": true, "annotation": true, "mrow": true, "mi": true, "mn": true, "mo": true,
	"mtext": true, "mspace": true, "msub": true, "msup": true, "msubsup": true, "munder": true, "mover": true, "munderover": true,
	"mfrac": true, "msqrt": true, "mroot": true, "mstyle": true, "mtable": true, "mtr": true, "mtd": true}

// children are the elements with a fixed number of them.
var children = map[string]int{"msub": 2, "msup": 2, "msubsup": 3, "munder": 2, "mover": 2, "munderover": 3, "mfrac": 2, "mroot": 2, "semantics": 2}

// checkMathML reads out as XML and returns what is wrong with it.
func checkMathML(out, tex string) string {
	d := xml.NewDecoder(strings.NewReader(out))
	type open struct {
		name string
		kids int
	}
	var stack []open
	var annotation strings.Builder
	for {
		tok, err := d.Token()
		if err == io.EOF {
			break
		}
		if err != nil {
			return err.Error()
		}
		switch tok := tok.(type) {
		case xml.StartElement:
			if !elements[tok.Name.Local] {
				return "element " + tok.Name.Local
			}
			for _, a := range tok.Attr {
				if a.Name.Local == "style" || strings.HasPrefix(a.Name.Local, "on") {
					return "attribute " + a.Name.Local
				}
			}
			if len(stack) > 0 {
				stack[len(stack)-1].kids++
			}
			stack = append(stack, open{name: tok.Name.Local})
		case xml.EndElement:
			top := stack[len(stack)-1]
			if want, fixed := children[top.name]; fixed && top.kids != want {
				return top.name + " has another number of children than it must have"
			}
			stack = stack[:len(stack)-1]
		case xml.CharData:
			if len(stack) > 0 && stack[len(stack)-1].name == "annotation" {
				annotation.Write(tok)
			}
		}
	}
	// XML readers turn CR into LF.
	if want := strings.NewReplacer("\r\n", "\n", "\r", "\n").Replace(tex); annotation.String() != want {
		return "annotation is not the source"
	}
	return ""
}

func FuzzConvert(f *testing.F) {
	for _, s := range []string{
		benchmarkTeX, `\frac{a}{b}^2_x`, `\left[\sqrt[3]{x}\right)`, `\qty{1e-3}{W/(m·K)}`, `\begin{cases}a&b\\c\end{cases}`,
		`\sum_{i=1}^n \bar{x}'' \mathbf{y}`, `\text{a\_b{c}}`, `\operatorname{row}(V, \text{“max”})`, `|a|b|`, `{{{`, `_^`, `\left.`,
	} {
		f.Add(s)
	}
	f.Fuzz(func(t *testing.T, tex string) {
		out, err := Convert(tex, len(tex)%2 == 0)
		if err != nil {
			var e *Error
			if !errors.As(err, &e) || e.Off < 0 || e.Off > len(tex) || e.Msg == "" {
				t.Fatalf("%q: %v: no error with an offset in the source", tex, err)
			}
			if Text(tex) != tex {
				t.Fatalf("%q: refused, but its text is %q", tex, Text(tex))
			}
			return
		}
		if problem := checkMathML(out, tex); problem != "" {
			t.Fatalf("%q: %s in %s", tex, problem, out)
		}
		if text := Text(tex); !utf8.ValidString(text) {
			t.Fatalf("%q: text %q is not UTF-8", tex, text)
		}
	})
}

const benchmarkTeX = `P = I^2 R_{DS(on)}(1+\alpha(T_J-\qty{25}{°C}))`

func BenchmarkConvert(b *testing.B) {
	for b.Loop() {
		if _, err := Convert(benchmarkTeX, true); err != nil {
			b.Fatal(err)
		}
	}
}
