package problem

import (
	"fmt"
	"regexp"

	"fullyon/engine/si"
)

var quoted = regexp.MustCompile(`'[^']*'|"[^"]*"`)

// nameLiterals gives the quantities that stand in a formula, such as '25 C',
// names of their own, so that a worked answer can show them as values. Other
// texts stay as they are.
func nameLiterals(src string) (string, map[string]si.Quantity) {
	var out map[string]si.Quantity
	src = quoted.ReplaceAllStringFunc(src, func(text string) string {
		q, ok := literalQuantity(text[1 : len(text)-1])
		if !ok {
			return text
		}
		if out == nil {
			out = map[string]si.Quantity{}
		}
		name := fmt.Sprintf("literal_%d", len(out)+1)
		out[name] = q
		return name
	})
	return src, out
}
