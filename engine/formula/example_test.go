package formula_test

import (
	"fmt"

	"fullyon/engine/formula"
)

func ExampleFormula_Text() {
	f, err := formula.Parse("current_rms^2 * rds_on_hot")
	if err != nil {
		fmt.Println(err)
		return
	}
	symbols := map[string]string{"current_rms": "I_RMS", "rds_on_hot": "R_DS(on)"}
	values := map[string]string{"current_rms": "2.0 A", "rds_on_hot": "32 mΩ"}
	fmt.Println(f.Text(func(n string) formula.Shown { return formula.Shown{Text: symbols[n]} }))
	fmt.Println(f.Text(func(n string) formula.Shown { return formula.Shown{Text: values[n], Compound: true} }))
	// Output:
	// I_RMS² × R_DS(on)
	// (2.0 A)² × 32 mΩ
}

func ExampleParse_error() {
	_, err := formula.Parse("(a + b * c")
	fmt.Println(err)
	// Output: formula: offset 0: "(" is never closed; add ")"
}
