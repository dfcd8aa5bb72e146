package wording

import (
	"encoding/json"
	"io"
)

// WriteJSON writes a result as JSON for other programs, indented, with a newline
// at its end.
func WriteJSON(w io.Writer, v any) error {
	e := json.NewEncoder(w)
	e.SetIndent("", "  ")
	e.SetEscapeHTML(false)
	return e.Encode(v)
}
