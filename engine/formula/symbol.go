package formula

import "strings"

// greek are the TeX names of letters used in symbols of quantities.
var greek = map[string]string{
	"alpha": "α", "beta": "β", "gamma": "γ", "delta": "δ", "epsilon": "ε", "varepsilon": "ε",
	"zeta": "ζ", "eta": "η", "theta": "θ", "kappa": "κ", "lambda": "λ", "mu": "μ", "nu": "ν",
	"xi": "ξ", "pi": "π", "rho": "ρ", "sigma": "σ", "tau": "τ", "phi": "φ", "varphi": "φ",
	"chi": "χ", "psi": "ψ", "omega": "ω", "Gamma": "Γ", "Delta": "Δ", "Theta": "Θ",
	"Lambda": "Λ", "Pi": "Π", "Sigma": "Σ", "Phi": "Φ", "Psi": "Ψ", "Omega": "Ω", "ell": "ℓ",
}

// TextSymbol turns the TeX symbol of a quantity into plain text: R_{DS(on)}
// becomes R_DS(on), \theta_{JA} becomes θ_JA, \Delta T becomes ΔT. Commands it
// does not know, and braces, are left out; it is meant for symbols, not formulas.
func TextSymbol(tex string) string {
	var b strings.Builder
	for i := 0; i < len(tex); {
		switch c := tex[i]; {
		case c == '\\':
			j := i + 1
			for j < len(tex) && (tex[j] >= 'a' && tex[j] <= 'z' || tex[j] >= 'A' && tex[j] <= 'Z') {
				j++
			}
			if j > i+1 {
				b.WriteString(greek[tex[i+1:j]])
				for j < len(tex) && tex[j] == ' ' { // TeX: a space only ends the command
					j++
				}
			}
			i = j
		case c == '{' || c == '}':
			i++
		case c == '^' && i+1 < len(tex):
			exp := strings.Trim(tex[i+1:], "{}")
			if n := skipDigits(exp, 0); n > 0 && n == len(exp) {
				b.WriteString(superscript(exp))
				return b.String()
			}
			b.WriteByte('^')
			i++
		case c == '~':
			b.WriteByte(' ')
			i++
		default:
			b.WriteByte(c)
			i++
		}
	}
	return b.String()
}
