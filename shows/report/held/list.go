package held

import (
	"errors"
	"fmt"
	"regexp"
	"slices"
	"strconv"
	"strings"

	"emberbeat/shows/intake"
	"emberbeat/shows/report"
	"emberbeat/shows/report/wording"
	"emberbeat/timeline"
)

// MostRows is how many rows of a list are read.
const MostRows = 100_000

// ownAddress is the column in which a cue list of our own has the outputs.
const ownAddress = "outputs"

// hit is the action of a row that opens an effect.
const hit = "hit"

// What can be wrong with a list as a whole: it is no table, or its columns say not
// enough.
var (
	ErrTable   = errors.New("the list cannot be read as a table")
	ErrColumns = errors.New("the columns of the list")
)

// actions lists what a row can do.
func actions() []string {
	list := []string{hit}
	for _, r := range []timeline.SlotRole{timeline.ArmSlot, timeline.ConditionSlot, timeline.WarmUpSlot} {
		list = append(list, r.Doing(true), r.Doing(false))
	}
	return list
}

// atom is one address of a row at one frame.
type atom struct {
	line    int
	number  string // in the order of the list, where it has numbers
	frame   int64  // from timecode midnight
	action  string
	text    string         // the address as the list has it
	at      report.Address // the zero value where it is not known
	unknown error          // why not
	off     bool           // it is accounted for
	with    *wanted        // the command that it is, or stands in the place of
}

// Unread is a row that could not be read, or does not count.
type Unread struct {
	Line int    `json:"line"`
	Why  string `json:"why"`
}

// list is a list that was read.
type list struct {
	atoms    []*atom
	rows     int      // of the table below the names
	left     []Unread // rows that do not count
	bad      []Unread // rows that should count and cannot be read
	numbered bool
	does     map[string]bool // actions that rows have
}

// columns are the numbers of the columns of a table by field.
type columns map[string]int

// has reports whether a field has a column.
func (c columns) has(field string) bool { _, ok := c[field]; return ok }

// columnsOf finds the columns: as mapped, else by the fields' own names.
func (r *Reading) columnsOf(t *intake.Table) (columns, error) {
	at := columns{}
	for _, f := range Fields() {
		name := r.mapping[f]
		i := t.Column(name)
		switch {
		case name != "" && i < 0:
			return nil, noColumn(t, name)
		case name == "":
			i = t.Column(f)
			if f == AddressField && i < 0 {
				i = t.Column(ownAddress)
			}
		}
		if i >= 0 {
			at[f] = i
		}
	}
	if err := r.one(t, at, "when", [][]string{{CodeField}, {ClockField}, {SecondsField}}); err != nil {
		return nil, err
	}
	if err := r.one(t, at, "which output", [][]string{{AddressField}, {BankField, OutputField}, {UniverseField, SlotField}}); err != nil {
		return nil, err
	}
	if at.has(SecondsField) && !at.has(SongField) {
		return nil, errors.New("seconds count from the start of a song, and no column names it; map song as well")
	}
	return at, nil
}

// one keeps one of the ways to say a thing: what was mapped counts before what has
// a field's own name.
func (r *Reading) one(t *intake.Table, at columns, says string, ways [][]string) error {
	var have, mapped, names [][]string
	for _, way := range ways {
		all, some, ours := true, false, false
		for _, f := range way {
			all, some = all && at.has(f), some || r.mapping[f] != ""
			ours = ours || r.mapping[f] != ""
		}
		if some && !all {
			return fmt.Errorf("%s go together; map both", strings.Join(way, " and "))
		}
		if all {
			if have = append(have, way); ours {
				mapped = append(mapped, way)
			}
		}
	}
	keep := have
	if len(mapped) > 0 {
		keep = mapped
	}
	switch {
	case len(keep) == 1:
	case len(keep) == 0:
		for _, way := range ways {
			names = append(names, []string{strings.Join(way, "+")})
		}
		return fmt.Errorf("no column says %s; map %s; the table has %s", says, strings.Join(slices.Concat(names...), ", "), quoted(t.Columns))
	default:
		return fmt.Errorf("%s each say %s; map the one that counts", strings.Join(slices.Concat(keep...), " and "), says)
	}
	for _, way := range ways {
		if !slices.Equal(way, keep[0]) {
			for _, f := range way {
				delete(at, f)
			}
		}
	}
	return nil
}

func noColumn(t *intake.Table, name string) error {
	return fmt.Errorf("no column is called %q; the table has %s", name, quoted(t.Columns))
}

func quoted(names []string) string {
	list := make([]string, len(names))
	for i, n := range names {
		list[i] = strconv.Quote(n)
	}
	return strings.Join(list, ", ")
}

// lister reads the rows of one table.
type lister struct {
	*Reading
	p       *timeline.Plan
	book    *book
	at      columns
	only    []int // columns of Reading.only
	decimal bool  // a comma may stand before decimals
	list    *list
}

// read reads a list. The error is of the table as a whole.
func (r *Reading) read(p *timeline.Plan, b *book, data []byte) (*list, error) {
	t, err := intake.ReadTable(data, r.table)
	if names := (*intake.NamesError)(nil); errors.As(err, &names) {
		return nil, err
	}
	if err != nil {
		return nil, fmt.Errorf("%w: %w", ErrTable, err)
	}
	if len(t.Rows) > MostRows {
		return nil, fmt.Errorf("%w: it has %d rows, and up to %d are compared", ErrTable, len(t.Rows), MostRows)
	}
	l := &lister{Reading: r, p: p, book: b, decimal: t.Comma != ',', list: &list{rows: len(t.Rows), does: map[string]bool{hit: true}}}
	if l.at, err = r.columnsOf(t); err != nil {
		return nil, fmt.Errorf("%w: %w", ErrColumns, err)
	}
	for _, o := range r.only {
		i := t.Column(o.Name)
		if i < 0 {
			return nil, fmt.Errorf("%w: %w", ErrColumns, noColumn(t, o.Name))
		}
		l.only = append(l.only, i)
	}
	l.list.numbered = l.at.has(NumberField)
	for _, row := range t.Rows {
		l.row(row)
	}
	return l.list, nil
}

// cell gives what a row says of a field, without characters that no text of a show
// holds.
func (l *lister) cell(row intake.Row, field string) string {
	i, ok := l.at[field]
	if !ok {
		return ""
	}
	return strings.TrimSpace(timeline.CleanText(wording.CellText(row.Cell(i))))
}

func (l *lister) leave(row intake.Row, why string) {
	l.list.left = append(l.list.left, Unread{row.Line, why})
}

func (l *lister) fail(row intake.Row, err error) {
	l.list.bad = append(l.list.bad, Unread{row.Line, err.Error()})
}

// row reads one row.
func (l *lister) row(row intake.Row) {
	for k, i := range l.only {
		if !strings.EqualFold(row.Cell(i), l.Reading.only[k].Text) {
			l.leave(row, fmt.Sprintf("%s is not %q", l.Reading.only[k].Name, l.Reading.only[k].Text))
			return
		}
	}
	action, err := l.action(row)
	switch {
	case err != nil:
		l.fail(row, err)
		return
	case action == leftOut:
		l.leave(row, "its action means left out")
		return
	}
	when := ""
	for _, f := range []string{CodeField, ClockField, SecondsField} {
		when += l.cell(row, f)
	}
	text := l.cell(row, AddressField)
	for _, pair := range [][3]string{{BankField, ":", OutputField}, {UniverseField, ".", SlotField}} {
		if a, b := l.cell(row, pair[0]), l.cell(row, pair[2]); a != "" || b != "" {
			text = a + pair[1] + b
		}
	}
	switch {
	case when == "" && text == "":
		l.leave(row, "says neither time nor address")
		return
	case when == "":
		l.leave(row, "says no time")
		return
	case text == "" || text == report.LabelsOf(nil):
		l.leave(row, "says no address")
		return
	}
	frame, err := l.frame(row, when)
	if err != nil {
		l.fail(row, err)
		return
	}
	l.list.does[action] = true
	for _, part := range strings.Split(text, " + ") {
		a := &atom{line: row.Line, number: l.cell(row, NumberField), frame: frame, action: action, text: strings.TrimSpace(part)}
		a.at, a.unknown = l.book.find(l.meant(a.text))
		l.list.atoms = append(l.list.atoms, a)
	}
}

func (l *lister) action(row intake.Row) (string, error) {
	text := l.cell(row, ActionField)
	if text == "" {
		return hit, nil
	}
	does := strings.ToLower(l.meant(text))
	if role, up, ok := timeline.ReadDoing(does); ok {
		return role.Doing(up), nil
	}
	if does != hit && does != leftOut {
		return "", fmt.Errorf("action %q is none of the plan's: say what it means, such as --means %q, %s or %s", text, text+"="+hit, strings.Join(actions()[1:], ", "), leftOut)
	}
	return does, nil
}

var (
	codeForm  = regexp.MustCompile(`^([0-9]{1,2}):([0-9]{2}):([0-9]{2})[:;.,]([0-9]{2})$`)
	clockForm = regexp.MustCompile(`^([0-9]{1,2}):([0-5][0-9]):([0-5][0-9](?:[.,][0-9]{1,9})?)$`)
)

// frame reads when a row happens.
func (l *lister) frame(row intake.Row, when string) (int64, error) {
	switch {
	case l.at.has(CodeField):
		m := codeForm.FindStringSubmatch(when)
		if m == nil {
			if clockForm.MatchString(when) {
				return 0, fmt.Errorf("%q has no frames; where it is a time of the clock with decimals, map it as clock", when)
			}
			return 0, fmt.Errorf("%q is no timecode such as 01:00:42:12", when)
		}
		tc, err := timeline.ParseTimecode(fmt.Sprintf("%02s:%s:%s:%s", m[1], m[2], m[3], m[4]))
		if err != nil {
			return 0, err
		}
		return l.p.Rate.Frame(tc)
	case l.at.has(ClockField):
		m := clockForm.FindStringSubmatch(when)
		if m == nil {
			return 0, fmt.Errorf("%q is no time of the clock such as 01:00:42.480", when)
		}
		hours, _ := strconv.Atoi(m[1]) // digits, as the form has them
		minutes, _ := strconv.Atoi(m[2])
		seconds, err := timeline.ParseTime(strings.Replace(m[3], ",", ".", 1))
		if err != nil || hours > 23 {
			return 0, fmt.Errorf("%q is no time from 00:00:00 to 23:59:59.999", when)
		}
		return l.p.Rate.Nearest(timeline.Time(hours)*timeline.Hour + timeline.Time(minutes)*timeline.Minute + seconds), nil
	}
	return l.inSong(row, when)
}

// inSong reads a time from the start of a song's audio.
func (l *lister) inSong(row intake.Row, when string) (int64, error) {
	song, err := l.p.FindSong(l.cell(row, SongField))
	if err != nil {
		return 0, err
	}
	text, before := strings.CutPrefix(strings.TrimSpace(strings.TrimSuffix(when, "s")), "before ")
	if l.decimal {
		text = strings.Replace(text, ",", ".", 1)
	}
	t, err := timeline.ParseTime(text)
	if err != nil {
		return 0, err
	}
	if before {
		t = -t
	}
	if ps := report.SongIn(l.p, song.ID); ps != nil {
		return ps.FrameAt(t), nil
	}
	start, err := l.p.Rate.Frame(song.Start)
	return start + l.p.Rate.Nearest(t), err
}
