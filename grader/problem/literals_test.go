package problem

import "testing"

func TestNameLiterals(t *testing.T) {
	got, values := nameLiterals("(T - '25 C') / theta_ja * row('10 V', 'max')")
	if want := "(T - literal_1) / theta_ja * row(literal_2, 'max')"; got != want {
		t.Errorf("%q, want %q", got, want)
	}
	if values["literal_1"].String() != "25 °C" || values["literal_2"].String() != "10 V" {
		t.Errorf("values %v", values)
	}
}
