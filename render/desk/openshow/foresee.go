package openshow

import (
	"fmt"

	"emberbeat/render/desk/page"
	"emberbeat/shows/report/changed"
	"emberbeat/timeline"
)

// Forecast says what a change would come to before it is made; nothing is in it until it is done.
type Forecast struct {
	Key  string
	Base *timeline.Plan
	changed.Forecast
	Err  error
	Done bool
}

// forecasts makes forecasts beside the window, one at a time.
type forecasts struct {
	now  *Forecast
	busy bool
}

// Foresee gives the forecast for edits; key names what they do, so that the same are not looked at twice. As long as it is not done, the
// newest one that is, or nil, stands in its place.
func (w *Work) Foresee(key string, edits ...timeline.Edit) *Forecast {
	fs := &w.forecasts
	if fs.now != nil && fs.now.Key == key && fs.now.Base == w.Plan || fs.busy {
		return fs.now
	}
	if !w.Checked() || w.Tried != nil {
		return nil // what there is now is not known yet
	}
	f := &Forecast{Key: key, Base: w.Plan}
	fs.now = f
	tried, err := w.Session.Try(edits...)
	if err != nil {
		f.Err, f.Done = err, true
		return f
	}
	fs.busy = true
	on := tried.On(w.Night)
	w.running.Add(1)
	go func() {
		defer w.running.Done()
		each, err := w.Session.Foresee(w.life, tried, on)
		w.window.Post(func() {
			if f.Err, f.Done = err, true; err == nil {
				f.Forecast = *each[0]
				w.window.Log("foresaw new=%d gone=%d", len(f.Findings.New), len(f.Findings.Gone))
			}
			fs.busy = false
			w.window.Again()
		})
	}()
	return f
}

// Foreseen gives the forecast that was asked for last, once it is done; nil before.
func (w *Work) Foreseen() *Forecast {
	if f := w.forecasts.now; f != nil && f.Done && !w.forecasts.busy {
		return f
	}
	return nil
}

// Text says a forecast in a line.
func (f *Forecast) Text() string {
	switch {
	case f == nil || !f.Done:
		return "Looking what this would change…"
	case f.Err != nil:
		return f.Err.Error()
	}
	text := timeline.Counted(f.Cues, "cue") + " would play otherwise"
	if n := len(f.Moved); n > 0 {
		if text += fmt.Sprintf(", %d at another time", n); f.Cues == 0 {
			text = timeline.Counted(n, "cue") + " would play at another time"
		}
	}
	return text + "; " + f.Found()
}

// Found says of a forecast that is done what becomes of the findings.
func (f *Forecast) Found() string {
	return fmt.Sprintf("findings: %d new, %d gone, %d as before.", len(f.Findings.New), len(f.Findings.Gone), f.Findings.Stay)
}

// mostTold bounds the lines in which a forecast tells how the plans differ.
const mostTold = 8

// Whole says a forecast in a line, and in further ones how the plans differ as wholes.
func (f *Forecast) Whole() string {
	text := f.Text()
	if f == nil || !f.Done || f.Err != nil {
		return text
	}
	lines := f.Plan.Changed()
	for i, line := range lines {
		if i == mostTold {
			return text + fmt.Sprintf("\nAnd %d lines more.", len(lines)-i)
		}
		text += "\n" + page.Upper(line) + "."
	}
	return text
}
