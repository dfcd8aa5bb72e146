package crew

import (
	"fmt"
	"slices"
	"strings"
)

// Role is who reads the page: which of its sheets, and whose cues.
type Role struct {
	Key    string   `json:"key"` // what the page remembers
	Name   string   `json:"name"`
	Sheets []string `json:"sheets"`       // in the order in which they are needed
	At     *int     `json:"at,omitempty"` // of Page.Positions: only what happens there; nil = all
}

// Spotters is the reader for whom explosives, order lists and persons are left out.
const Spotters = "spotters"

// Readers lists for whom a page can be made, beside everybody.
func Readers() []string { return []string{Spotters} }

// roles are who reads which sheets (common practice, no source).
var roles = []Role{
	{Key: "caller", Name: "Caller", Sheets: []string{"running-sheet", "manual-go", "hold-sheet"}},
	{Key: "operator", Name: "Operator", Sheets: []string{"cue-list", "hold-sheet", "operators-plan", "cut-list"}},
	{Key: "loader", Name: "Load and wiring", Sheets: []string{"load-plan", "rewire-sheet", "patch-sheet", "dry-list", "order-list", "return-sheet"}},
	{Key: "inspector", Name: "Inspector", Sheets: []string{"inspector-sheet", "permit-pack", "cut-list", "hold-sheet", "misfire-log"}},
}

// spotter reads what is seen from one position.
var spotter = []string{"spotter-sheet", "hold-sheet", "running-sheet"}

// rolesOf gives the roles of a page: one spotter a position.
func rolesOf(positions []string, reader string) []Role {
	list := []Role{}
	if reader != Spotters {
		list = slices.Clone(roles)
	}
	for i, name := range positions {
		list = append(list, Role{Key: "spotter:" + name, Name: "Spotter, " + name, Sheets: spotter, At: &i})
	}
	return list
}

// held is why a sheet is in a page only when it is asked for.
var held = map[string]string{
	"cue-list":        "every command, which the songs have as well",
	"permit-pack":     "persons and papers",
	"inspector-sheet": "explosives in figures",
	"order-list":      "what is bought and stored",
	"return-sheet":    "what is stored",
	"misfire-log":     "who did what",
	"operators-plan":  "who calls",
}

// never are the sheets that a page for spotters does not hold, though they be asked
// for.
var never = []string{"permit-pack", "inspector-sheet", "order-list", "return-sheet", "misfire-log", "load-plan", "operators-plan", "rewire-sheet"}

// Sheets chooses the sheets of a page out of all that there are: those that are asked
// for, "all" for every one, and by nothing those without persons, storage and
// permits. A sheet that does not exist, or is not for the reader, is an error.
func Sheets(all, asked []string, reader string) ([]string, error) {
	if reader != "" && !slices.Contains(Readers(), reader) {
		return nil, fmt.Errorf("a page is made for everybody, or for %s, and not for %q", strings.Join(Readers(), ", "), reader)
	}
	every := slices.Contains(asked, "all")
	for _, name := range asked {
		switch {
		case name == "all":
		case !slices.Contains(all, name):
			return nil, fmt.Errorf("%q is no sheet; there are %s", name, strings.Join(all, ", "))
		case reader == Spotters && slices.Contains(never, name):
			return nil, fmt.Errorf("%s is not for spotters: it holds explosives, storage or persons; leave it out", name)
		}
	}
	var list []string
	for _, name := range all {
		switch {
		case reader == Spotters && slices.Contains(never, name):
		case every, slices.Contains(asked, name), len(asked) == 0 && held[name] == "":
			list = append(list, name)
		}
	}
	return list, nil
}

// Held says why a sheet is not in a page that nobody asked it for; "" where it is.
func Held(name string) string { return held[name] }
