package sheet

import (
	"fmt"
	"io"
	"slices"
	"strings"

	"emberbeat/render/paper"
	"emberbeat/shows/report"
	"emberbeat/shows/report/load"
	"emberbeat/shows/report/night"
	"emberbeat/shows/report/permit"
	"emberbeat/timeline"
	"emberbeat/timeline/rule"
)

// Kind is one sheet that can be printed: what stands in the export verb, in
// the window's export and in a folder with all sheets of a night.
type Kind struct {
	Name   string // "cue-list": the word in commands and file names
	Title  string // "Cue list"
	Help   string // what stands on it, a sentence without its full stop
	For    string // who holds it
	BySong bool   // a Filter's song and bars choose what it shows; else it shows all
	Night  bool   // it is about one night and cannot be made without
	Picks  bool   // a Filter's choice of effects and outputs counts as well
	Sorts  bool   // a Filter's order counts as well

	of func(*timeline.Plan, report.Filter) (Sheet, error)
}

var kinds = []Kind{
	{Name: "cue-list", Title: "Cue list", For: "operator", BySong: true, Picks: true, Sorts: true,
		Help: "for the operator: every cue in the order it is played, its units as one, with the timecodes at which it is commanded and closes; sorted otherwise, and in every format but pdf, png and svg, each command on its own",
		of: func(p *timeline.Plan, f report.Filter) (Sheet, error) {
			r, err := report.NewCueList(p, f)
			return cueList{r, f.Order.OrCommand() != report.ByCommand}, err
		}},
	{Name: "running-sheet", Title: "Running sheet", For: "caller", BySong: true,
		Help: "for the caller: each song's audio file, length and short hash for playback to read aloud, the timecode of bar 1, sections with their length, first hit and arms, and where to go on after a hold",
		of: func(p *timeline.Plan, f report.Filter) (Sheet, error) {
			r, err := report.NewRunningSheet(p, f)
			return runningSheet{r}, err
		}},
	{Name: "manual-go", Title: "Manual-go list", For: "caller", BySong: true,
		Help: "for lost timecode: the moments of each song that a person can call by hand, with bar, section, countdown from the call before, what must be on, and where to go on when one is missed",
		of: func(p *timeline.Plan, f report.Filter) (Sheet, error) {
			r, err := report.NewManualGo(p, f)
			return manualGo{r}, err
		}},
	{Name: "hold-sheet", Title: "Hold sheet", For: "caller, operator", BySong: true,
		Help: "when to hold and abort, with room for who may release; in each section what stands open if timecode stops there, which arms are on, and where to go on; the safe state of every bank and device",
		of: func(p *timeline.Plan, f report.Filter) (Sheet, error) {
			r, err := report.NewHoldSheet(p, f)
			return holdSheet{r}, err
		}},
	{Name: "dry-list", Title: "Dry list", For: "rehearsal", BySong: true,
		Help: "for the rehearsal with nothing loaded or connected: the same timing, what is done in place of each effect, boxes to tick",
		of: func(p *timeline.Plan, f report.Filter) (Sheet, error) {
			r, err := report.NewDryList(p, f)
			return dryList{r}, err
		}},
	{Name: "spotter-sheet", Title: "Spotter sheet", For: "spotters", BySong: true,
		Help: "for each position what its spotter sees when: timecode, bar, effect, clear zone, who is near, and the words to hold and clear with",
		of: func(p *timeline.Plan, f report.Filter) (Sheet, error) {
			r, err := report.NewSpotterSheet(p, f)
			return spotterSheet{r}, err
		}},
	{Name: "inspector-sheet", Title: "Inspector sheet", For: "inspector", BySong: true,
		Help: "for inspector and local crew, each song whole where a page holds it: what plays where and when, class and NEC, height under the trim, distance needed and planned to audience and performers with a box for that measured, signatures",
		of: func(p *timeline.Plan, f report.Filter) (Sheet, error) {
			r, err := report.NewInspectorSheet(p, f)
			return inspectorSheet{r}, err
		}},
	{Name: "load-plan", Title: "Load plan", For: "loaders", BySong: true, Picks: true,
		Help: "what stands on every output and at every position, when it is first used, NEC by hazard division, spare outputs, and for igniters the ohms to expect with a box for those measured",
		of: func(p *timeline.Plan, f report.Filter) (Sheet, error) {
			r, err := load.NewPlan(p, f)
			return loadPlan{r}, err
		}},
	{Name: "patch-sheet", Title: "Patch sheet", For: "patch crew",
		Help: "each universe's blocks and slots with their value windows, by universe.slot and by running number, and the banks' addresses",
		of:   func(p *timeline.Plan, _ report.Filter) (Sheet, error) { return patchSheet{load.NewPatchSheet(p)}, nil }},
	{Name: "rewire-sheet", Title: "Rewire sheet", For: "loaders", Night: true,
		Help: "what a night plugs elsewhere than the tour: from, to and a box to tick, what is out of service or finds no place, and every output to test again with its expected ohms",
		of: func(p *timeline.Plan, _ report.Filter) (Sheet, error) {
			return rewireSheet{load.NewRewireSheet(timeline.Compile(p.Show, &timeline.Night{Set: p.Night.Set}), p)}, nil
		}},
	{Name: "order-list", Title: "Order list", For: "buyer",
		Help: "what has to be bought or brought: pieces against what is on hand, spares, igniters, gas and cylinders, and what each song uses with the swap points",
		of: func(p *timeline.Plan, _ report.Filter) (Sheet, error) {
			r, err := load.NewOrderList(p)
			return orderList{r}, err
		}},
	{Name: "permit-pack", Title: "Permit pack", For: "authority",
		Help: "for the authority: event, people and papers with lines to write on, articles with NEC by day and division, stage plan to scale, required against planned distances, control, estimates of heat and CO2, procedures, what is not verified, signatures",
		of: func(p *timeline.Plan, _ report.Filter) (Sheet, error) {
			r, err := permit.NewPack(p)
			return permitPack{Pack: r}, err
		}},
	{Name: "operators-plan", Title: "Operator's plan", For: "operator",
		Help: "the hand cues as numbered keys: what each does, when and by whom it is called, what must be so before, a box for notes; paper alone, no key drives anything",
		of: func(p *timeline.Plan, _ report.Filter) (Sheet, error) {
			return operatorsPlan{report.NewOperatorsPlan(p)}, nil
		}},
	{Name: "return-sheet", Title: "Return sheet", For: "loaders, store",
		Help: "what goes back after a show: loads with what became of them or boxes to say so, spares, cylinders with weights, empties, open misfires",
		of: func(p *timeline.Plan, _ report.Filter) (Sheet, error) {
			return returnSheet{load.NewReturnSheet(p)}, nil
		}},
	{Name: "misfire-log", Title: "Misfire log", For: "operator",
		Help: "each misfire with output, position and article, the time waited, who cleared it and a signature; open ones of earlier nights first, rows to write in",
		of:   func(p *timeline.Plan, _ report.Filter) (Sheet, error) { return misfireLog{load.NewMisfireLog(p)}, nil }},
	{Name: "cut-list", Title: "Cut list", For: "production", Night: true,
		Help: "what a night does not play as the tour does: cuts, swaps and losses cue by cue with bar, timecode, what plays instead and why, with lines to sign",
		of: func(p *timeline.Plan, _ report.Filter) (Sheet, error) {
			r, err := night.NewCutList(p)
			return cutList{r}, err
		}},
}

// forms are sheets in another form, which are made when they are asked for and do
// not stand among all sheets of a show.
var forms = []Kind{
	{Name: "cue-list-long", Title: "Cue list, long form", For: "operator", BySong: true, Picks: true, Sorts: true,
		Help: "the cue list with a row for each command: its output and value, lead, what rounding to the frame adds, and the hit",
		of: func(p *timeline.Plan, f report.Filter) (Sheet, error) {
			r, err := report.NewCueList(p, f)
			return cueList{r, true}, err
		}},
}

// Kinds lists the sheets of a show's paper, in its order.
func Kinds() []Kind { return slices.Clone(kinds) }

// Forms lists all that can be printed: the Kinds, and other forms of some.
func Forms() []Kind { return slices.Concat(kinds, forms) }

// KindNamed finds a sheet by its name.
func KindNamed(name string) (Kind, bool) {
	all := Forms()
	i := slices.IndexFunc(all, func(o Kind) bool { return o.Name == name })
	if i < 0 {
		return Kind{}, false
	}
	return all[i], true
}

// Make makes the sheet of what a filter shows of a plan. A filter that the
// sheet does not heed, or the plan cannot satisfy, is an error, and so is a plan without a night where the sheet
// is about one.
func (o Kind) Make(p *timeline.Plan, f report.Filter) (Sheet, error) {
	if o.Night && p.Night == nil {
		return nil, fmt.Errorf("%s is about one night, and none is chosen", o.Name)
	}
	switch {
	case f.Choice != nil && !o.Picks:
		return nil, fmt.Errorf("%s shows all effects and outputs; they can be chosen for %s", o.Name, kindsThat(func(o Kind) bool { return o.Picks }))
	case (f.Together || f.Order.OrCommand() != report.ByCommand) && !o.Sorts:
		return nil, fmt.Errorf("%s has an order of its own; sorted are %s", o.Name, kindsThat(func(o Kind) bool { return o.Sorts }))
	}
	made, err := o.of(p, f)
	if err != nil {
		return nil, err
	}
	if f.Standing == nil {
		f.Standing = report.StandingOf(p, rule.Facts{}, rule.Check(p, rule.Facts{}))
	}
	made.(interface{ Stands(*report.Standing) }).Stands(f.Standing)
	return made, nil
}

// kindsThat names some offers.
func kindsThat(are func(Kind) bool) string {
	var names []string
	for _, o := range kinds {
		if are(o) {
			names = append(names, o.Name)
		}
	}
	return strings.Join(names, ", ")
}

// Formats lists what a sheet can be written as.
func Formats() []string { return []string{"csv", "json", "pdf", "png", "svg", "xlsx"} }

// Write writes a sheet in one of the Formats: pdf and xlsx for a paper, of png and
// svg one page of it, counted from 1; csv and json use neither.
func Write(w io.Writer, made Sheet, format string, size paper.Size, page int) error {
	switch format {
	case "csv":
		return made.WriteCSV(w)
	case "json":
		return made.WriteJSON(w)
	case "pdf":
		return WritePDF(w, made, size)
	case "png":
		return WritePage(w, made, size, page)
	case "svg":
		return WriteDrawing(w, made, size, page)
	case "xlsx":
		return WriteBook(w, made, size)
	}
	return fmt.Errorf("format %q is not one of: %s", format, strings.Join(Formats(), ", "))
}

// byteOrderMark is U+FEFF, which UTF-8 has no need of (RFC 3629, 6).
const byteOrderMark = "\uFEFF"

// WriteFile is Write into a file that a person opens. CSV then begins with a byte
// order mark: RFC 4180 gives a file no way to say its encoding, and spreadsheets
// take one without the mark for the letters of their system, so that names with
// accents and the signs of the head come out wrong without a word. What reads from
// a pipe takes UTF-8 as it is, and there the mark would stand in the first cell.
func WriteFile(w io.Writer, made Sheet, format string, size paper.Size, page int) error {
	if format == "csv" {
		if _, err := io.WriteString(w, byteOrderMark); err != nil {
			return err
		}
	}
	return Write(w, made, format, size, page)
}
