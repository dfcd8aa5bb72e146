package intake

import (
	"fmt"
	"slices"
	"strconv"
	"strings"

	"emberbeat/timeline"
)

// CueOptions say how the rows of a table become cues.
type CueOptions struct {
	Mapping Mapping
	Song    *timeline.Song // of rows that name none; nil = by the song column, else by the timecode
	Lane    string         // of rows that name none; "" = a lane with the target's name
	Target  string         // of rows that name none
	Article string         // of rows that name none
	// Command says that the times of the table are those of commands; the hit
	// then comes a lead later. A target whose effects differ in lead hits with
	// the longest, so that none is asked to come earlier than it can.
	Command bool
	Only    map[string]string // rows count only where the column of the name holds the text
	Means   map[string]string // what a name of the table is called in the show
}

// CueRow is one row of a table and what it would do.
type CueRow struct {
	Line    int
	Song    *timeline.Song // nil where the row does nothing
	Placing timeline.Placing
	Says    string // what the row does, or why it does nothing, for people
	Bad     bool   // the row should do something and cannot

	put  putCue // makes the cue of a list of our own; nil = by Placing
	done bool   // its cue is placed by another row
}

// putCue makes one cue.
type putCue func(d *timeline.Draft, newID func(kind string, song timeline.ID) timeline.ID) error

// Places reports whether the row places a cue, by itself or with others.
func (r *CueRow) Places() bool { return r.Song != nil && !r.Bad }

// edit gives the edit that places the row's cue.
func (r *CueRow) edit(p *timeline.Plan, newID func(kind string, song timeline.ID) timeline.ID) timeline.Edit {
	switch {
	case r.done:
		return func(*timeline.Draft) error { return nil }
	case r.put != nil:
		return func(d *timeline.Draft) error { return r.put(d, newID) }
	}
	return p.Place(r.Placing, newID)
}

// Cues reads a table of cues: what each row would do in a show, tried row by
// row, each after those before it. A row without a time, or left out by Only,
// does nothing; one that cannot be placed says why and what would be right. A cue
// list as this program writes it needs no options, and its arms and conditions
// come back, too. The error is of the table as a whole.
func (t *Table) Cues(p *timeline.Plan, o CueOptions) ([]CueRow, error) {
	r := &rowReader{plan: p, o: o, decimal: t.Comma != ',', action: columnNamed(t.Columns, listAction)}
	if t.OwnCueList() && o.plain() {
		r.decimal = true // a program between may have written them so
		return t.tried(p, t.own(r)), nil
	}
	var err error
	if r.at, err = o.Mapping.columnsOf(t); err != nil {
		return nil, err
	}
	if r.only, err = o.onlyColumns(t); err != nil {
		return nil, err
	}
	rows := make([]CueRow, len(t.Rows))
	for i, row := range t.Rows {
		rows[i] = r.read(row)
	}
	return t.tried(p, rows), nil
}

// tried places row after row in the show, and says of those that cannot be placed
// why.
func (t *Table) tried(p *timeline.Plan, rows []CueRow) []CueRow {
	show, n := p.Show, 0
	ids := func(kind string, _ timeline.ID) timeline.ID {
		n++
		return timeline.ID(fmt.Sprintf("%s-row%d", kind, n))
	}
	for i := range rows {
		if !rows[i].Places() {
			continue
		}
		next, err := show.Edit(rows[i].edit(p, ids))
		if err != nil {
			rows[i].Bad, rows[i].Says = true, err.Error()
			continue
		}
		show = next
	}
	return rows
}

// PlaceCues gives the edit that makes the cues of rows that can be placed.
// newID hands in ids that no record of the kind has in the song.
func PlaceCues(p *timeline.Plan, rows []CueRow, newID func(kind string, song timeline.ID) timeline.ID) timeline.Edit {
	return func(d *timeline.Draft) error {
		for i := range rows {
			if rows[i].Places() {
				if err := rows[i].edit(p, newID)(d); err != nil {
					return fmt.Errorf("line %d: %w", rows[i].Line, err)
				}
			}
		}
		return nil
	}
}

func (o *CueOptions) onlyColumns(t *Table) (map[int]string, error) {
	only := map[int]string{}
	for name, text := range o.Only {
		i := columnNamed(t.Columns, name)
		if i < 0 {
			return nil, fmt.Errorf("no column is called %q; the table has %s", name, quotedList(t.Columns))
		}
		only[i] = text
	}
	return only, nil
}

// rowReader reads rows of one table.
type rowReader struct {
	plan    *timeline.Plan
	o       CueOptions
	at      map[string]int
	only    map[int]string
	action  int      // the column that says what a row does; -1 = none
	decimal bool     // numbers may have a comma before the decimals
	cleaned []string // fields of the row that held what no show keeps
}

// cell gives what a row says of a field, in the show's own names and without
// characters that no text of a show holds.
func (r *rowReader) cell(row Row, name string) string {
	i, ok := r.at[name]
	if !ok {
		return ""
	}
	s := row.Cell(i)
	if clean := timeline.CleanText(s); clean != s {
		s = clean
		if !slices.Contains(r.cleaned, name) {
			r.cleaned = append(r.cleaned, name)
		}
	}
	if own := r.o.Means[s]; own != "" {
		return own
	}
	return s
}

func (r *rowReader) read(row Row) CueRow {
	c := CueRow{Line: row.Line}
	r.cleaned = nil
	for i, text := range r.only {
		if !strings.EqualFold(row.Cell(i), text) {
			c.Says = "is left out"
			return c
		}
	}
	if _, chosen := r.only[r.action]; !chosen {
		if does := row.Cell(r.action); does != "" && !strings.EqualFold(does, actionHit) {
			c.Bad, c.Says = true, fmt.Sprintf("action %q is no %s; take the hits alone with --only %s=%s", does, actionHit, listAction, actionHit)
			return c
		}
	}
	when := ""
	for _, f := range timeColumns {
		when += r.cell(row, f)
	}
	if when == "" {
		c.Says = "says no time"
		return c
	}
	if err := r.placing(&c, row, when); err != nil {
		c.Bad, c.Says = true, err.Error()
	}
	if len(r.cleaned) > 0 {
		c.Says += "; " + strings.Join(r.cleaned, " and ") + " cleaned of characters that no show keeps"
	}
	return c
}

// placing makes the placing of a row.
func (r *rowReader) placing(c *CueRow, row Row, when string) (err error) {
	pos, err := r.position(when)
	if err != nil {
		return err
	}
	if c.Song, err = r.song(row, pos); err != nil {
		return err
	}
	pl := timeline.Placing{Song: c.Song.ID, Lane: r.or(row, LaneColumn, r.o.Lane), Target: r.or(row, TargetColumn, r.o.Target),
		Article: r.or(row, ArticleColumn, r.o.Article), Note: r.cell(row, NoteColumn)}
	if pl.Lane == "" {
		pl.Lane = pl.Target
	}
	if pl.Lane == "" {
		return fmt.Errorf("names neither target nor lane; map one of them, or choose one for all rows")
	}
	if pl.Open, err = r.span(row, OpenColumn); err != nil {
		return err
	}
	if pl.Level, err = r.percent(row); err != nil {
		return err
	}
	if r.o.Command {
		if pos, err = r.hit(c.Song, pl, pos); err != nil {
			return err
		}
	}
	pl.At = []timeline.Position{pos}
	c.Placing = pl
	c.Says = says(c.Song, pl)
	return nil
}

func (r *rowReader) or(row Row, field, usual string) string {
	if s := r.cell(row, field); s != "" {
		return s
	}
	return usual
}

// says tells people what a row does.
func says(song *timeline.Song, pl timeline.Placing) string {
	s := fmt.Sprintf("song %q: a cue at %s on lane %q", song.FullTitle(), pl.At[0], pl.Lane)
	if pl.Target != "" && pl.Target != pl.Lane {
		s += ", target " + strconv.Quote(pl.Target)
	}
	if pl.Article != "" {
		s += ", article " + strconv.Quote(pl.Article)
	}
	if pl.Open != 0 {
		s += ", open " + pl.Open.String() + " s"
	}
	if pl.Level != 0 {
		s += fmt.Sprintf(", level %d %%", pl.Level)
	}
	return s
}
