package bits

import "fmt"

// mostWarnings is the number of warnings that a person will read.
const mostWarnings = 20

// Warnings says in whole sentences what was found wrong with a file and read
// around.
type Warnings []string

// Add adds a sentence, unless there are as many already as a person will read.
func (w *Warnings) Add(format string, args ...any) {
	if len(*w) < mostWarnings {
		*w = append(*w, fmt.Sprintf(format, args...))
	}
}

// Clock writes a number of frames as minutes and seconds.
func Clock(frames int64, rate int) string {
	s := float64(frames) / float64(max(rate, 1))
	return fmt.Sprintf("%d:%06.3f", int64(s)/60, s-float64(int64(s)/60*60))
}

// LongestGap is how much silence is believed in the place of what is lost,
// where the length is not known.
const LongestGap = 60 // seconds
