package intake

import (
	"cmp"
	"fmt"
	"slices"
	"strconv"
	"strings"

	"emberbeat/shows/report/wording"
	"emberbeat/timeline"
)

// The columns by which our own cue list is known, and those that later ones have.
const (
	listNumber  = "number"
	listSong    = "song"
	listAction  = "action"
	listHit     = "hit s"
	listEffect  = "placed effect" // of a window: the device
	listArticle = "article"
	listOpen    = "open s"
	listClose   = "closes"
	listCode    = "timecode"
	listLevel   = "level %"
	listLane    = "lane"
	listCue     = "cue"
	listNote    = "note"

	listAt     = "at"
	listTarget = "target"
	listWith   = "opens with"
)

var ownColumns = []string{listNumber, listSong, listAction, listCode, listHit, listEffect, listArticle, listOpen, listClose, listLevel, listLane, listCue, listNote}

// What a row of the list does.
const (
	actionHit  = "hit"
	actionLost = "lost"
)

// OwnCueList reports whether a table is a cue list as this program writes it, by
// the names of its columns.
func (t *Table) OwnCueList() bool {
	return !slices.ContainsFunc(ownColumns, func(name string) bool { return columnNamed(t.Columns, name) < 0 })
}

// plain reports whether nothing is said of columns and rows that a cue list of our
// own says itself.
func (o *CueOptions) plain() bool {
	return len(o.Mapping) == 0 && len(o.Only) == 0 && o.Song == nil && o.Lane+o.Target+o.Article == "" && !o.Command
}

// listReader reads the rows of a cue list of our own. Rows of one cue become that
// cue again: a group's on its group, a window from its row that goes up.
type listReader struct {
	*rowReader
	columns map[string]int
	table   *Table
	rows    []CueRow
}

// listKey is what the rows of one cue share.
type listKey struct{ song, cue, lane, action string }

// own reads all rows.
func (t *Table) own(r *rowReader) []CueRow {
	l := &listReader{rowReader: r, columns: map[string]int{}, table: t, rows: make([]CueRow, len(t.Rows))}
	for _, name := range append(slices.Clone(ownColumns), listAt, listTarget, listWith) {
		l.columns[name] = columnNamed(t.Columns, name)
	}
	closes := map[[4]string]bool{}
	var order []listKey
	cues := map[listKey][]int{}
	for i, row := range t.Rows {
		c := &l.rows[i]
		c.Line = row.Line
		action := l.text(i, listAction)
		role, up, window := timeline.ReadDoing(action)
		switch {
		case l.text(i, listNumber) == "none" && action == actionLost:
			c.Says = "is left out: it led to no command when the list was written"
			continue
		case action == actionHit && l.text(i, listWith) != "":
			c.Says = "opens with " + strconv.Quote(l.text(i, listWith)) + ", whose line places the cue"
			continue
		case window && !up:
			continue // when all that go up are known
		case action != actionHit && !window:
			c.Bad, c.Says = true, fmt.Sprintf("action %q is none that a cue list has: write %s, hit alone for effects", action, strings.Join(listActions(), ", "))
			continue
		case up:
			closes[[4]string{l.text(i, listSong), string(role), l.text(i, listEffect), l.text(i, listClose)}] = true
		}
		k := listKey{l.text(i, listSong), l.text(i, listCue), l.text(i, listLane), action}
		if k.cue == "" {
			k.cue = fmt.Sprint("line ", row.Line) // a line that was added by hand
		}
		if cues[k] == nil {
			order = append(order, k)
		}
		cues[k] = append(cues[k], i)
	}
	for i := range t.Rows {
		if role, up, window := timeline.ReadDoing(l.text(i, listAction)); window && !up {
			c := &l.rows[i]
			c.Says = "is the end of a window"
			if !closes[[4]string{l.text(i, listSong), string(role), l.text(i, listEffect), l.text(i, listCode)}] {
				c.Bad, c.Says = true, fmt.Sprintf("no line %q closes here; add it, or take this one out", role.Doing(true))
			}
		}
	}
	for _, k := range order {
		l.cue(cues[k])
	}
	return l.rows
}

func listActions() []string {
	list := []string{actionHit}
	for _, r := range []timeline.SlotRole{timeline.ArmSlot, timeline.ConditionSlot, timeline.WarmUpSlot} {
		list = append(list, r.Doing(true), r.Doing(false))
	}
	return list
}

// text gives what a row says in a column, as it was before the list was written.
func (l *listReader) text(i int, column string) string {
	at := l.columns[column]
	if at < 0 {
		return ""
	}
	return timeline.CleanText(wording.CellText(l.table.Rows[i].Cell(at)))
}

// name is a text that names something, in the show's own names.
func (l *listReader) name(i int, column string) string {
	s := l.text(i, column)
	return cmp.Or(l.o.Means[s], s)
}

// cue makes the cue, or the cues, of rows that were one.
func (l *listReader) cue(rows []int) {
	parts := [][]int{rows}
	target := l.name(rows[0], listTarget)
	if target == "" || !l.whole(rows, target) {
		parts = nil // some of a group, or each as it was not: each by itself
		for _, i := range rows {
			parts = append(parts, []int{i})
		}
		target = ""
	}
	for _, part := range parts {
		err := l.placed(part, target)
		for _, i := range part {
			if err != nil {
				l.rows[i].Bad, l.rows[i].Says, l.rows[i].put = true, err.Error(), nil
			}
		}
	}
}

// whole reports whether rows are all that a cue on a target does, at one time and
// for one time: what is missing of it may have been lost when the list was written.
func (l *listReader) whole(rows []int, target string) bool {
	for _, i := range rows {
		if l.text(i, listHit) != l.text(rows[0], listHit) {
			return false
		}
		if l.text(i, listAction) != actionHit && l.text(i, listClose) != l.text(rows[0], listClose) {
			return false
		}
	}
	units, err := l.units(target)
	if err != nil {
		return true // the error is told where the cue is made
	}
	there := map[string]bool{}
	for _, i := range rows {
		there[l.name(i, listEffect)] = true
	}
	role, _, _ := timeline.ReadDoing(l.text(rows[0], listAction))
	does := map[string]bool{}
	for _, u := range units {
		switch {
		case u.Out:
		case role == "":
			does[u.Placed.Name] = true
		default:
			for _, d := range u.Drives {
				if d.DeviceType != nil && len(d.DeviceType.Find(role, d.Wire.Output)) > 0 {
					does[d.Device.Name] = true
				}
			}
		}
	}
	return len(there) == len(does) && !slices.ContainsFunc(rows, func(i int) bool { return !does[l.name(i, listEffect)] })
}

func (l *listReader) units(target string) ([]*timeline.Unit, error) {
	id, err := l.aim(target)
	if err != nil {
		return nil, err
	}
	units, _ := l.plan.Units.Target(id)
	return units, nil
}

// aim finds what a cue can aim at, by name or as kind:id.
func (l *listReader) aim(target string) (timeline.ID, error) {
	if kind, _, ok := strings.Cut(target, ":"); ok && (kind == "placed" || kind == "group") {
		ref, err := l.plan.FindRecord(target)
		return ref.ID, err
	}
	return l.find(target, "placed", "group")
}

// placed gives rows the cue that they are: one on their target, or on what the one
// row names.
func (l *listReader) placed(rows []int, target string) error {
	i := rows[0]
	song, err := l.plan.FindSong(l.name(i, listSong))
	if err != nil {
		return err
	}
	lane := timeline.Lane{Name: l.text(i, listLane), Role: timeline.EffectSlot}
	cue := timeline.Cue{Note: l.text(i, listNote)}
	role, _, _ := timeline.ReadDoing(l.text(i, listAction))
	if role != "" {
		lane.Role = role
	}
	if target == "" {
		lane.Target, err = l.single(i, role)
	} else {
		lane.Target, err = l.aim(target)
	}
	if err != nil {
		return err
	}
	if cue.At, err = l.moment(i, song); err != nil {
		return err
	}
	if role != "" {
		cue.Open, err = l.lasts(i, song, cue.At)
	} else {
		err = l.plays(rows, &cue)
	}
	if err != nil {
		return err
	}
	for n, row := range rows {
		c := &l.rows[row]
		c.Song = song
		c.Says = fmt.Sprintf("song %q: %s at %s on lane %q", song.FullTitle(), cmp.Or(string(role), "a cue"), cue.At, lane.Name)
		if n > 0 {
			c.Says += fmt.Sprintf(", with line %d", l.rows[i].Line)
		}
		c.done = n > 0
	}
	l.rows[i].put = l.putting(song, lane, cue)
	return nil
}

// single finds the one placed effect of a row: the one it names, or one whose
// device has the window.
func (l *listReader) single(i int, role timeline.SlotRole) (timeline.ID, error) {
	name := l.name(i, listEffect)
	if role == "" {
		return l.find(name, "placed")
	}
	for _, u := range l.plan.Units.All {
		for _, d := range u.Drives {
			if d.DeviceType != nil && strings.EqualFold(d.Device.Name, name) && len(d.DeviceType.Find(role, d.Wire.Output)) > 0 {
				return u.Placed.ID, nil
			}
		}
	}
	return "", fmt.Errorf("no placed effect hangs on a device %q with a slot for %s; wire one, or say with --means what the device is called here", name, role)
}

// moment is where a row stands: as it says exactly, else its hit to 0.1 ms. Where
// the two differ one of them is wrong.
func (l *listReader) moment(i int, song *timeline.Song) (timeline.Moment, error) {
	at, hit := l.text(i, listAt), l.text(i, listHit)
	if at == "" {
		t, err := l.seconds(hit)
		if err != nil {
			err = fmt.Errorf("%s: %w", listHit, err)
		}
		return timeline.AtTime(t), err
	}
	m, err := timeline.ParseMoment(at)
	if err != nil {
		return m, fmt.Errorf("%s %q %w", listAt, at, err)
	}
	t, ok := m.In(song.Beats)
	if !ok {
		return m, fmt.Errorf("song %q has no beats, so that bar %s has no time; empty the cell %s to place the cue at %s s", song.FullTitle(), at, listAt, hit)
	}
	said, err := l.seconds(hit)
	if err == nil && max(t-said, said-t) > timeline.EntryStep {
		err = fmt.Errorf("%s %s is at %s s, and %s says %s: the beats were others, or one cell was changed; empty the cell %s to go by the other", listAt, at, wording.Seconds(t), listHit, hit, listAt)
	}
	return m, err
}

// lasts is how long a window is open, to 0.1 ms as cues keep it; where that leaves
// two frames, the one on which it closes decides.
func (l *listReader) lasts(i int, song *timeline.Song, at timeline.Moment) (timeline.Time, error) {
	if l.text(i, listClose) == "never" {
		return 0, nil
	}
	open, err := l.seconds(l.text(i, listOpen))
	if err != nil || open <= 0 {
		return 0, fmt.Errorf("%s %q must be the seconds that the window lasts, or %s say never", listOpen, l.text(i, listOpen), listClose)
	}
	open = max(open.RoundTo(timeline.EntryStep), timeline.EntryStep)
	rate := l.plan.Show.Head.Rate
	start, errStart := rate.Frame(song.Start)
	up, _ := at.In(song.Beats)
	for _, by := range []timeline.Time{0, -timeline.EntryStep, timeline.EntryStep} {
		if errStart == nil && open+by > 0 && rate.Label(rate.Ceil(rate.At(start)+up+open+by)) == l.text(i, listClose) {
			return open + by, nil
		}
	}
	return open, nil
}

// plays sets article, open time and level where they are not what the placed
// effects play anyway.
func (l *listReader) plays(rows []int, cue *timeline.Cue) error {
	usual := true
	for _, i := range rows {
		article, open, level, err := l.playing(i)
		if err != nil {
			return err
		}
		u, err := l.find(l.name(i, listEffect), "placed")
		if err != nil {
			return err
		}
		unit := l.plan.Units.Of(u)
		own := unit.Article
		usual = usual && own != nil && own.ID == article && own.Open == open && cmp.Or(own.Level, 100) == level
		if i == rows[0] {
			cue.Article, cue.Open, cue.Level = article, open, level
		} else if !usual && (cue.Article != article || cue.Open != open || cue.Level != level) {
			return fmt.Errorf("the lines of cue %q play different things, which one cue cannot: give each a cell %s of its own", l.text(i, listCue), listCue)
		}
	}
	cue.Open = cue.Open.RoundTo(timeline.EntryStep)
	if usual {
		cue.Article, cue.Open, cue.Level = "", 0, 0
	}
	return nil
}

// playing reads what a row plays.
func (l *listReader) playing(i int) (article timeline.ID, open timeline.Time, level int, err error) {
	if article, err = l.find(l.name(i, listArticle), "article"); err != nil {
		return "", 0, 0, err
	}
	if open, err = l.seconds(l.text(i, listOpen)); err != nil {
		return "", 0, 0, fmt.Errorf("%s: %w", listOpen, err)
	}
	if level, err = strconv.Atoi(cmp.Or(l.text(i, listLevel), "0")); err != nil || level < 0 || level > 100 {
		return "", 0, 0, fmt.Errorf("level %q must be a whole percentage from 1 to 100", l.text(i, listLevel))
	}
	return article, open, level, nil
}

// putting gives the edit that makes a cue on its lane. A lane is that of the name
// and role, else a new one; where it has an article or open time of its own, the
// cue says what it plays.
func (l *listReader) putting(song *timeline.Song, lane timeline.Lane, cue timeline.Cue) putCue {
	before := map[timeline.ID]bool{}
	for _, c := range song.Cues {
		before[c.ID] = true
	}
	return func(d *timeline.Draft, newID func(kind string, song timeline.ID) timeline.ID) error {
		now, c := d.Show().Song(song.ID), cue
		var on *timeline.Lane
		for _, x := range now.Lanes {
			if x.Role == lane.Role && strings.EqualFold(x.Name, lane.Name) && (x.Article == "" && x.Open == 0) {
				on = x
				break
			}
		}
		if on == nil {
			x := lane
			x.ID = newID("lane", song.ID)
			d.Put(song.ID, &x)
			on = &x
		}
		c.Lane = on.ID
		if on.Target != lane.Target {
			c.Target = lane.Target
		}
		for _, x := range now.Cues {
			if before[x.ID] && x.Lane == c.Lane && x.Target == c.Target && x.At == c.At {
				return fmt.Errorf("lane %q already has a cue at %s (%s); nothing was placed", on.Name, c.At, x.ID)
			}
		}
		c.ID = newID("cue", song.ID)
		d.Put(song.ID, &c)
		return nil
	}
}
