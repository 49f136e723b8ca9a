package math

// letters are set sloping, as symbols of quantities are.
var letters = map[string]string{
	"alpha": "α", "beta": "β", "gamma": "γ", "delta": "δ", "epsilon": "ϵ", "varepsilon": "ε",
	"zeta": "ζ", "eta": "η", "theta": "θ", "kappa": "κ", "lambda": "λ", "mu": "μ", "nu": "ν",
	"xi": "ξ", "pi": "π", "rho": "ρ", "sigma": "σ", "tau": "τ", "phi": "ϕ", "varphi": "φ",
	"chi": "χ", "psi": "ψ", "omega": "ω", "ell": "ℓ",
}

var uprightLetters = map[string]string{
	"Gamma": "Γ", "Delta": "Δ", "Theta": "Θ", "Lambda": "Λ", "Pi": "Π", "Sigma": "Σ",
	"Phi": "Φ", "Psi": "Ψ", "Omega": "Ω", "infty": "∞", "partial": "∂", "degree": "°",
	"ohm": "Ω", "%": "%", "$": "$", "#": "#", "&": "&", "_": "_",
}

var signs = map[string]string{
	"times": "×", "cdot": "⋅", "div": "÷", "pm": "±", "mp": "∓", "le": "≤", "leq": "≤",
	"ge": "≥", "geq": "≥", "ne": "≠", "neq": "≠", "approx": "≈", "sim": "∼", "propto": "∝",
	"equiv": "≡", "ll": "≪", "gg": "≫", "to": "→", "rightarrow": "→", "Rightarrow": "⇒",
	"implies": "⟹", "iff": "⟺", "in": "∈", "parallel": "∥", "circ": "∘", "ldots": "…",
	"cdots": "⋯", "colon": ":", "land": "∧", "lor": "∨",
}

var brackets = map[string]sign{
	"{": {"{", opening}, "}": {"}", closing}, "lbrace": {"{", opening}, "rbrace": {"}", closing},
	"langle": {"⟨", opening}, "rangle": {"⟩", closing},
}

var bigSigns = map[string]big{
	"sum": {"∑", true}, "prod": {"∏", true}, "int": {"∫", false}, "oint": {"∮", false},
}

// functions are set upright; true for those with limits below.
var functions = map[string]bool{
	"sin": false, "cos": false, "tan": false, "arctan": false, "ln": false, "log": false, "exp": false,
	"max": true, "min": true, "lim": true,
}

var spaces = map[string]string{
	",": "0.167em", ":": "0.222em", ";": "0.278em", "!": "-0.167em", " ": "0.333em",
	"quad": "1em", "qquad": "2em",
}

const (
	thinSpace = space("0.167em")
	tieSpace  = space("0.333em")
	leanSpace = space("0.1em")
)

// accentMark is a sign over a value: spacing form for MathML, combining form for text.
type accentMark struct{ spacing, combining string }

var accents = map[string]accentMark{
	"bar": {"¯", "\u0304"}, "overline": {"¯", "\u0305"}, "hat": {"^", "\u0302"}, "vec": {"→", "\u20d7"},
	"dot": {"˙", "\u0307"}, "ddot": {"¨", "\u0308"}, "tilde": {"~", "\u0303"},
}
