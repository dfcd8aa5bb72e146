package timeline

import (
	"fmt"
	"strconv"

	"emberbeat/timeline/field"
	"emberbeat/timeline/units"
)

// Refill is a planned refill or change of cylinders in the gap after a song:
// an item of a running order, or of a night.
type Refill struct {
	Supply  ID
	After   ID      // song; the refill starts at its end
	Kg      float64 // what the supply holds afterwards; 0 = all its units full
	Minutes float64 // needed, from the end of the song; 0 = not given
	By      string  // who does it
	Out     bool    // of a night: the running order's refill there is not done
}

const refillWords = "supply-id after=song-id kg= minutes= by= out"

// String writes the item form: `c1 after=ember kg=22.7 minutes=4 by="rigger 2"`.
func (f Refill) String() string {
	var w itemWriter
	w.head(string(f.Supply))
	w.pair("after", string(f.After))
	if f.Kg != 0 {
		w.pair("kg", field.FormatNumber(f.Kg))
	}
	if f.Minutes != 0 {
		w.pair("minutes", field.FormatNumber(f.Minutes))
	}
	w.pair("by", f.By)
	w.flag("out", f.Out)
	return w.String()
}

// ParseRefill reads the item form of a refill.
func ParseRefill(s string) (Refill, error) {
	r := readItem(s)
	f := Refill{Supply: take2(r, r.head("the id of a supply"), parseID)}
	f.After = take(r, "after", parseID)
	f.Kg, f.Minutes = take(r, "kg", parseMass), take(r, "minutes", parseMinutes)
	f.By, f.Out = r.value("by"), r.flag("out")
	if f.After == "" && r.err == nil {
		r.err = fmt.Errorf("says not when; write after=song-id: it starts at the end of that song")
	}
	return f, r.done(refillWords)
}

// Needs is the time the refill takes; 0 = not given.
func (f Refill) Needs() Time { return FromMillis(int64(f.Minutes*60_000 + 0.5)) }

func parseMass(s string) (float64, error) {
	x, err := units.Metres.Read("kg", s)
	if err != nil || !(x >= 0 && x < 1e6) {
		return 0, fmt.Errorf("must be a mass in kg, 0 or more")
	}
	return x + 0, nil
}

func parseMinutes(s string) (float64, error) {
	x, err := strconv.ParseFloat(s, 64)
	if err != nil || !(x >= 0 && x <= 1440) {
		return 0, fmt.Errorf("must be a number of minutes from 0 to 1440")
	}
	return x + 0, nil
}
