package timeline

import (
	"fmt"
	"strconv"
	"strings"
)

// Metre is a time signature: Num beats to the bar, each one Den-th of a whole
// note, so that 6/8 has six beats. The zero value means unset.
type Metre struct{ Num, Den int }

// maxMetre bounds both numbers of a metre.
const maxMetre = 32

// ParseMetre reads `4/4`: a number of beats from 1 to 32 over 1, 2, 4, 8, 16
// or 32.
func ParseMetre(s string) (Metre, error) {
	num, den, _ := strings.Cut(s, "/")
	n, okNum := parseCount(num, maxMetre)
	d, okDen := parseCount(den, maxMetre)
	m := Metre{int(n), int(d)}
	if !okNum || !okDen || m.Check() != nil {
		return Metre{}, fmt.Errorf("metre %s cannot be read: %s", quoted(s), metreHelp)
	}
	return m, nil
}

// metreHelp ends every error about a metre.
const metreHelp = "write beats over note value such as 4/4 or 6/8, 1 to 32 beats over 1, 2, 4, 8, 16 or 32"

// Check returns an error unless m is a metre that ParseMetre would read. The
// unset metre is none.
func (m Metre) Check() error {
	powerOfTwo := m.Den > 0 && m.Den&(m.Den-1) == 0
	if m.Num < 1 || m.Num > maxMetre || !powerOfTwo || m.Den > maxMetre {
		return fmt.Errorf("metre %d/%d is not valid: %s", m.Num, m.Den, metreHelp)
	}
	return nil
}

// IsZero reports whether the metre is unset.
func (m Metre) IsZero() bool { return m == Metre{} }

// String returns `4/4`, or nothing for the unset metre.
func (m Metre) String() string {
	if m.IsZero() {
		return ""
	}
	return strconv.Itoa(m.Num) + "/" + strconv.Itoa(m.Den)
}

// Counted gives the tempo that musicians count where a beat is not what they tap:
// of 180 eighths a minute in 6/8 "dotted quarter 60"; "" where the beat is it.
func (m Metre) Counted(bpm float64) string {
	if m.Pulse() == 1 || bpm == 0 {
		return ""
	}
	return "dotted quarter " + strings.TrimSuffix(strconv.FormatFloat(bpm/float64(m.Pulse()), 'f', 1, 64), ".0")
}

// Pulse returns the number of beats in a felt pulse: 3 in 6/8, 9/8 and 12/8,
// where three eighths are counted as one, else 1.
func (m Metre) Pulse() int {
	if m.Den == 8 && (m.Num == 6 || m.Num == 9 || m.Num == 12) {
		return 3
	}
	return 1
}
