package lessons

import (
	"math"
	"strings"
	"testing"

	"github.com/yuin/goldmark/text"
	"pgregory.net/rapid"
)

// The formula on published counts: the example sentence that encyclopaedias give for
// it (13 words, 24 syllables, 11.3), and the averages of a picture book, 5.7 words a
// sentence and 1.02 syllables a word, for which −1.3 is quoted.
func TestGrade(t *testing.T) {
	for _, c := range []struct {
		text string
		want float64
	}{
		{"The Australian platypus is seemingly a hybrid of a mammal and reptilian creature.", 11.3},
		{"The cat sat on the mat.", 0.39*6 + 11.8*6/6 - 15.59},
		{"The cat sat. The cat ran on the mat.", 0.39*9/2 + 11.8 - 15.59},
		{"\ue000 and \uf000 are the same.", 0.39*6 + 11.8*6/6 - 15.59},
		{"A current-limited supply — it holds.", 0.39*6 + 11.8*10/6 - 15.59},
		{"", 0},
		{" — ", 0},
	} {
		if got := Grade(c.text); math.Abs(got-c.want) > 0.05 {
			t.Errorf("Grade(%q) = %.2f, want %.2f", c.text, got, c.want)
		}
	}
	if got := 0.39*5.7 + 11.8*1.02 - 15.59; math.Abs(got+1.3) > 0.06 {
		t.Errorf("the formula gives %.2f on the averages of the picture book", got)
	}
}

// Syllables as dictionaries part the words.
func TestSyllables(t *testing.T) {
	for word, want := range map[string]int{
		"cat": 1, "platypus": 3, "hybrid": 2, "mammal": 2, "resistance": 3, "transistor": 3, "circuit": 2, "voltage": 2,
		"battery": 3, "capacitor": 4, "temperature": 4, "the": 1, "table": 2, "used": 1, "wanted": 2, "fuse": 1, "fuses": 2,
		"ratio": 3, "material": 4, "condition": 3, "special": 2, "licensed": 2, "people": 2, "resistors": 3, "charges": 2, "you": 1,
		"yes": 1, "gate": 1, "gates": 1, "source": 1, "sources": 2, "sheet": 1, "million": 2, "queue": 1, "3V": 0, "R2": 0, "don't": 1,
	} {
		if got := syllables(word); got != want {
			t.Errorf("%s has %d syllables, want %d", word, got, want)
		}
	}
}

// Cutting a sentence in two never makes a text harder, and no text is refused.
func TestGradeOfAnyText(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		words := rapid.SliceOfN(rapid.StringMatching(`[a-z]{1,9}`), 2, 30).Draw(t, "words")
		k := rapid.IntRange(1, len(words)-1).Draw(t, "cut")
		one := Grade(strings.Join(words, " ") + ".")
		two := Grade(strings.Join(words[:k], " ") + ". " + strings.Join(words[k:], " ") + ".")
		if two > one+1e-9 || math.IsNaN(one) {
			t.Fatalf("%.3f in one sentence, %.3f in two", one, two)
		}
		Grade(rapid.String().Draw(t, "anything"))
	})
}

func TestProseLeavesOut(t *testing.T) {
	src := []byte("# A heading\n\nHere is\n*one* \ue000 and $x_1$.\n\n| a | b |\n|---|---|\n| 1 | 2 |\n\n- an item\n\n::: belief\nA belief.\n:::\n")
	doc := lessonMarkdown.Parser().Parse(text.NewReader(src))
	if got, want := prose(doc, src), "Here is\none \ue000 and \ue400.\n\nan item\n\nA belief.\n\n"; got != want {
		t.Errorf("prose %q, want %q", got, want)
	}
}

// The lessons are for people of about fourteen. What each comes to is told with -v.
func TestGradesOfLessons(t *testing.T) {
	c, err := Built()
	if err != nil {
		t.Fatal(err)
	}
	for _, l := range c.Lessons {
		g := Grade(l.prose)
		t.Logf("lesson %2d: grade %.1f, %d words", l.Number, g, l.Words)
		if g > maxGrade || g < 1 {
			t.Errorf("lesson %d has the grade %.1f", l.Number, g)
		}
	}
}
