package timeline

import "strings"

// Doing says what a window's command does to its slot: "arm up", "condition
// down", "heater on". An effect's has no such words.
func (r SlotRole) Doing(up bool) string {
	what, states := r.Words()
	if up {
		return what + " " + states[0]
	}
	return what + " " + states[1]
}

// Words names what a window's slot switches, and its two states: "arm" with "up" and "down".
func (r SlotRole) Words() (what string, states [2]string) {
	if r == WarmUpSlot {
		return "heater", [2]string{"on", "off"}
	}
	return string(r), [2]string{"up", "down"}
}

// ReadDoing reads what Doing says, and "warm-up up" of older lists; ok is false
// for anything else.
func ReadDoing(text string) (r SlotRole, up, ok bool) {
	for _, r := range [...]SlotRole{ArmSlot, ConditionSlot, WarmUpSlot} {
		for _, up := range [...]bool{true, false} {
			if text == r.Doing(up) {
				return r, up, true
			}
		}
	}
	if rest, older := strings.CutPrefix(text, string(WarmUpSlot)+" "); older && (rest == "up" || rest == "down") {
		return WarmUpSlot, rest == "up", true
	}
	return "", false, false
}
