package web

import (
	"encoding/json"
	"net/http"

	"fullyon/engine/si"
)

// reading is how a text was read, as JSON for the script. It tells nothing about
// right and wrong: it is made from the text and the unit asked alone.
type reading struct {
	Read  string   `json:"read,omitempty"`  // "0.120 W"
	Say   string   `json:"say,omitempty"`   // why it cannot be read
	Notes []string `json:"notes,omitempty"` // on style
}

func readText(unit, text string) (reading, error) {
	u, err := si.UnitOf(unit)
	if err != nil {
		return reading{}, badRequest("There is no such unit.")
	}
	got, err := si.Read(text, u)
	if re, ok := si.AsReadError(err); ok {
		if re.Kind == si.Empty {
			return reading{}, nil
		}
		return reading{Say: re.Msg}, nil
	}
	return reading{Read: got.Text, Notes: got.Notes}, err
}

func sendReading(w http.ResponseWriter, unit, text string) error {
	out, err := readText(unit, text)
	if err != nil {
		return err
	}
	b, err := json.Marshal(out)
	if err != nil {
		return err
	}
	w.Header().Set("Content-Type", "application/json")
	w.Header().Set("Cache-Control", "no-store")
	_, err = w.Write(b)
	return err
}
