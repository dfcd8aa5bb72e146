package timeline

import (
	"errors"
	"fmt"
)

// Timecode is a frame label of SMPTE ST 12-1: hours, minutes, seconds and
// frames. Which labels exist, and when they happen, depends on a Rate.
type Timecode struct{ H, M, S, F uint8 }

const (
	// Frame numbers dropped at the start of a minute, unless it is a tenth.
	droppedPerMinute = 2

	framesPerDropMinute     = 60*30 - droppedPerMinute
	framesPerDropTenMinutes = 10*60*30 - 9*droppedPerMinute
)

// timecodeHelp ends every error about the text of a timecode.
const timecodeHelp = "write hh:mm:ss:ff such as 01:00:41:16, from 00:00:00:00 to 23:59:59 and the rate's last frame"

// ParseTimecode reads `hh:mm:ss:ff`, two digits each; a semicolon before the
// frames is read as a colon. Whether the label exists depends on the rate: see
// Rate.Frame.
func ParseTimecode(s string) (Timecode, error) {
	tc, ok := scanTimecode(s)
	if !ok {
		return Timecode{}, fmt.Errorf("timecode %s cannot be read: %s", quoted(s), timecodeHelp)
	}
	return tc, nil
}

func scanTimecode(s string) (Timecode, bool) {
	if len(s) != len("hh:mm:ss:ff") || s[2] != ':' || s[5] != ':' || s[8] != ':' && s[8] != ';' {
		return Timecode{}, false
	}
	h, okH := parseTwoDigits(s[0:2], 23)
	m, okM := parseTwoDigits(s[3:5], 59)
	sec, okS := parseTwoDigits(s[6:8], 59)
	f, okF := parseTwoDigits(s[9:11], 29)
	return Timecode{uint8(h), uint8(m), uint8(sec), uint8(f)}, okH && okM && okS && okF
}

// String returns `hh:mm:ss:ff`.
func (tc Timecode) String() string { return tc.text(':') }

func (tc Timecode) text(beforeFrames byte) string {
	return string(tc.append(make([]byte, 0, 16), beforeFrames))
}

func (tc Timecode) append(b []byte, beforeFrames byte) []byte {
	for i, part := range [...]uint8{tc.H, tc.M, tc.S, tc.F} {
		switch i {
		case 1, 2:
			b = append(b, ':')
		case 3:
			b = append(b, beforeFrames)
		}
		// A value made by hand may exceed two digits; show it, do not wrap it.
		if part > 99 {
			b = append(b, '0'+part/100)
			part %= 100
		}
		b = appendTwoDigits(b, int64(part))
	}
	return b
}

// Frame returns the frame from midnight that carries the label. It gives an
// error for a label that the rate does not have.
func (r Rate) Frame(tc Timecode) (int64, error) {
	if err := r.checkLabel(tc); err != nil {
		return 0, err
	}
	minutes := 60*int64(tc.H) + int64(tc.M)
	frame := (minutes*60+int64(tc.S))*int64(r.Nominal()) + int64(tc.F)
	if r.Drop() {
		frame -= droppedPerMinute * (minutes - minutes/10)
	}
	return frame, nil
}

func (r Rate) checkLabel(tc Timecode) error {
	if r.FrameTicks() == 0 {
		return errNoRate
	}
	if tc.H > 23 || tc.M > 59 || tc.S > 59 || int(tc.F) >= r.Nominal() {
		return fmt.Errorf("timecode %s is out of range at frame rate %s: frames run from 00 to %02d, the last label is %s", tc, r, r.Nominal()-1, r.lastLabel())
	}
	if r.drops(tc) {
		next := Timecode{tc.H, tc.M, tc.S, droppedPerMinute}
		return fmt.Errorf("timecode %s does not exist at frame rate %s: frame numbers 00 and 01 are dropped each minute except every tenth; the next label is %s", tc, r, next.text(';'))
	}
	return nil
}

// drops reports whether the label is one of those dropped.
func (r Rate) drops(tc Timecode) bool {
	return r.Drop() && tc.M%10 != 0 && tc.S == 0 && tc.F < droppedPerMinute
}

var errNoRate = errors.New("no frame rate is set: choose one of " + rateTexts())

// Timecode returns the label of a frame from midnight. It gives an error for a
// frame outside the 24 hours from 00:00:00:00: timecode does not run across
// midnight here.
func (r Rate) Timecode(frame int64) (Timecode, error) {
	if r.FrameTicks() == 0 {
		return Timecode{}, errNoRate
	}
	if frame < 0 || frame >= r.DayFrames() {
		return Timecode{}, fmt.Errorf("frame %d is %s: timecode runs from 00:00:00:00 to %s and does not cross midnight", frame, r.outside(frame), r.lastLabel())
	}
	return r.label(frame), nil
}

// label returns the label of a frame within the day.
func (r Rate) label(frame int64) Timecode {
	n, nominal := frame+r.droppedBefore(frame), int64(r.Nominal())
	seconds := n / nominal
	return Timecode{
		H: uint8(seconds / 3600),
		M: uint8(seconds / 60 % 60),
		S: uint8(seconds % 60),
		F: uint8(n % nominal),
	}
}

// droppedBefore returns how many frame numbers were dropped between midnight
// and the frame.
func (r Rate) droppedBefore(frame int64) int64 {
	if !r.Drop() {
		return 0
	}
	tens, rest := frame/framesPerDropTenMinutes, frame%framesPerDropTenMinutes
	// The first minute of ten keeps all its numbers and is two frames longer.
	minutes := max(0, rest-droppedPerMinute) / framesPerDropMinute
	return droppedPerMinute * (9*tens + minutes)
}

// outside says on which side of the day a frame lies.
func (r Rate) outside(frame int64) string {
	if frame < 0 {
		return "before 00:00:00:00"
	}
	return "after " + r.lastLabel()
}

// lastLabel returns the label of the day's last frame.
func (r Rate) lastLabel() string { return r.Label(r.DayFrames() - 1) }

// Label returns the text of a frame's label for sheets and screens, with a
// semicolon before the frames for drop-frame rates. A frame outside the day
// gives `before 00:00:00:00` or `after 23:59:59:24`.
func (r Rate) Label(frame int64) string {
	switch {
	case r.FrameTicks() == 0:
		return "no frame rate"
	case frame < 0 || frame >= r.DayFrames():
		return r.outside(frame)
	case r.Drop():
		return r.label(frame).text(';')
	}
	return r.label(frame).text(':')
}

// AppendLabel is Label without garbage, for what is drawn while a song plays.
func (r Rate) AppendLabel(b []byte, frame int64) []byte {
	if r.FrameTicks() == 0 || frame < 0 || frame >= r.DayFrames() {
		return append(b, r.Label(frame)...)
	}
	if r.Drop() {
		return r.label(frame).append(b, ';')
	}
	return r.label(frame).append(b, ':')
}
