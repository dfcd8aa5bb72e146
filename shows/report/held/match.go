package held

import (
	"cmp"
	"maps"
	"slices"

	"emberbeat/shows/report"
	"emberbeat/shows/report/wording"
	"emberbeat/timeline"
)

// wanted is what the plan wants of one address at one frame; what several units do
// there together is one.
type wanted struct {
	line   *report.Line // the first in the order of the plan
	lines  int
	song   int   // place among the plan's songs
	frame  int64 // from timecode midnight, of the command or of the hit as the list has it
	action string
	at     report.Address
	out    report.Output
	exact  wording.Seconds // from the start of the song: what frame is the nearest to
	need   bool            // a list without it lacks something
	is     *atom           // the row that is it, or stands in its place
	late   int64           // frames that the row is after it
}

// key is where things are looked for.
type key struct {
	at     report.Address
	action string
	frame  int64
}

// offset is a time by which all rows of a song are off.
type offset struct {
	frames int64
	rows   int // that prove it
}

// matcher pairs rows of a list with what the plan wants.
type matcher struct {
	wanted []*wanted
	atoms  []*atom
	songs  int
	window int64 // frames
	least  int   // rows that prove an offset

	all  offset   // of the whole list, as far as more than half of it agrees
	offs []offset // of each song
	rows map[key][]*atom
}

// mostPairs bounds how many pairs of rows and commands are looked at for an offset.
const mostPairs = 4_000_000

// match pairs each row with one command at most: at the same address and frame, then
// at the same address within the window, the nearest first, then at the same frame on
// another address. Of those that are alike the first of the plan takes the first of
// the list.
func (m *matcher) match() {
	m.offsets()
	m.rows = map[key][]*atom{}
	left := map[key]int{} // rows of an address and action
	for _, a := range m.atoms {
		if a.unknown == nil {
			m.rows[key{a.at, a.action, a.frame}] = append(m.rows[key{a.at, a.action, a.frame}], a)
			left[key{a.at, a.action, 0}]++
		}
	}
	for far := int64(0); far <= m.window; far++ {
		for _, w := range m.wanted {
			k := key{w.at, w.action, 0}
			if w.is != nil || left[k] == 0 {
				continue
			}
			if m.take(w, -far) || far > 0 && m.take(w, far) {
				left[k]--
			}
		}
	}
	m.otherAddress()
}

// due is the frame of a command in the list.
func (m *matcher) due(w *wanted) int64 { return w.frame + m.offs[w.song].frames }

// take gives a command the first row that is so many frames after it.
func (m *matcher) take(w *wanted, late int64) bool {
	k := key{w.at, w.action, m.due(w) + late}
	rows := m.rows[k]
	if len(rows) == 0 {
		return false
	}
	w.is, w.late, rows[0].with, rows[0].off = rows[0], late, w, true
	m.rows[k] = rows[1:]
	return true
}

// otherAddress pairs what is left at one frame: first what is of the same bank or
// universe.
func (m *matcher) otherAddress() {
	for _, near := range []bool{true, false} {
		rows := map[key][]*atom{}
		at := func(a report.Address, action string, frame int64) key {
			if a.Output, a.Slot.Slot = 0, 0; !near {
				a = report.Address{}
			}
			return key{a, action, frame}
		}
		for _, a := range m.atoms {
			if !a.off && (a.unknown == nil || !near) {
				k := at(a.at, a.action, a.frame)
				rows[k] = append(rows[k], a)
			}
		}
		for _, w := range m.wanted {
			k := at(w.at, w.action, m.due(w))
			if w.is == nil && w.need && len(rows[k]) > 0 {
				w.is, rows[k][0].with, rows[k][0].off = rows[k][0], w, true
				rows[k] = rows[k][1:]
			}
		}
	}
}

// offsets finds the time by which the list is off as a whole, then that of each
// song. A time counts where more than half of the commands have a row just so far
// away, and more of them than any other.
func (m *matcher) offsets() {
	m.offs = make([]offset, m.songs)
	m.all = m.voted(m.wanted, m.atoms, 0)
	have := map[key]bool{}
	for _, a := range m.atoms {
		if a.unknown == nil {
			have[key{a.at, a.action, a.frame}] = true
		}
	}
	// rows gives the rows that stand just so far off.
	rows := func(list []*wanted, by int64) (found []key) {
		for _, w := range list {
			if k := (key{w.at, w.action, w.frame + by}); w.need && have[k] {
				found = append(found, k)
			}
		}
		return found
	}
	of := make([][]*wanted, m.songs)
	for _, w := range m.wanted {
		of[w.song] = append(of[w.song], w)
	}
	var open []int
	taken := map[key]bool{}
	for i, list := range of {
		found := rows(list, m.all.frames)
		m.offs[i] = offset{m.all.frames, len(found)}
		if as := rows(list, 0); len(as) > len(found) { // the list is off, and this song is not
			found, m.offs[i] = as, offset{0, len(as)}
		}
		if 2*len(found) <= needed(list) {
			open = append(open, i)
		}
		for _, k := range found {
			taken[k] = true
		}
	}
	for _, i := range open {
		var free []*atom
		for _, a := range m.atoms {
			if !taken[key{a.at, a.action, a.frame}] {
				free = append(free, a)
			}
		}
		if o := m.voted(of[i], free, m.offs[i].frames); o.rows > 0 {
			m.offs[i] = o
			for _, k := range rows(of[i], o.frames) {
				taken[k] = true
			}
		}
	}
}

func needed(list []*wanted) (n int) {
	for _, w := range list {
		if w.need {
			n++
		}
	}
	return n
}

// voted gives the offset that more than half of the commands agree on; that of none
// is usual.
func (m *matcher) voted(list []*wanted, atoms []*atom, usual int64) offset {
	type spot struct {
		want, have map[int64]bool
	}
	spots := map[key]*spot{}
	at := func(k key) *spot {
		if spots[k] == nil {
			spots[k] = &spot{map[int64]bool{}, map[int64]bool{}}
		}
		return spots[k]
	}
	count := 0
	for _, w := range list {
		if w.need {
			at(key{w.at, w.action, 0}).want[w.frame] = true
		}
	}
	for _, a := range atoms {
		if s := spots[key{a.at, a.action, 0}]; s != nil && a.unknown == nil {
			s.have[a.frame] = true
		}
	}
	all := slices.SortedFunc(maps.Values(spots), func(a, b *spot) int { return cmp.Compare(len(a.want)*len(a.have), len(b.want)*len(b.have)) })
	votes, pairs := map[int64]int{}, 0
	for _, s := range all {
		count += len(s.want)
		if pairs += len(s.want) * len(s.have); pairs > mostPairs {
			// So many of one address: the first with the first, the second with the second.
			if len(s.want) == len(s.have) {
				have := slices.Sorted(maps.Keys(s.have))
				for i, w := range slices.Sorted(maps.Keys(s.want)) {
					votes[have[i]-w]++
				}
			}
			continue
		}
		for w := range s.want {
			for h := range s.have {
				votes[h-w]++
			}
		}
	}
	best := offset{frames: usual}
	for by, n := range votes {
		far, bestFar := distance(by, usual), distance(best.frames, usual)
		if n > best.rows || n == best.rows && (far < bestFar || far == bestFar && by < best.frames) {
			best = offset{by, n}
		}
	}
	if best.rows < m.least || 2*best.rows <= count || best.frames == usual {
		return offset{frames: usual}
	}
	return best
}

func distance(a, b int64) int64 { return max(a-b, b-a) }

// otherOrder gives the commands whose rows stand in another order than in the plan:
// the fewest of each song without which the others stand as planned. after says
// which of two rows comes later in the list. Rows of another frame are left out,
// and commands that are due at the same instant have no order.
func otherOrder(list []*wanted, later func(a, b *atom) int) (out []*wanted) {
	var rows []*wanted
	for _, w := range list {
		if w.is != nil && w.late == 0 && w.is.unknown == nil {
			rows = append(rows, w)
		}
	}
	slices.SortStableFunc(rows, func(a, b *wanted) int { return cmp.Or(later(a.is, b.is), planned(a, b)) })
	// The longest run that never goes back, by patience: ends[n] is the row with the
	// least place at which a run of n+1 ends.
	ends, before := []int{}, make([]int, len(rows))
	for i, w := range rows {
		n, _ := slices.BinarySearchFunc(ends, w, func(at int, w *wanted) int {
			if planned(rows[at], w) <= 0 {
				return -1
			}
			return 1
		})
		before[i] = -1
		if n > 0 {
			before[i] = ends[n-1]
		}
		if n == len(ends) {
			ends = append(ends, i)
		} else {
			ends[n] = i
		}
	}
	kept := make([]bool, len(rows))
	if len(ends) > 0 {
		for i := ends[len(ends)-1]; i >= 0; i = before[i] {
			kept[i] = true
		}
	}
	for i, w := range rows {
		if !kept[i] {
			out = append(out, w)
		}
	}
	return out
}

// planned compares where commands stand in the plan; 0 where it sets no order.
func planned(a, b *wanted) int {
	return cmp.Or(cmp.Compare(a.frame, b.frame), cmp.Compare(place(a.action), place(b.action)), cmp.Compare(a.exact, b.exact))
}

// place puts what goes up before hits, and those before what goes down.
func place(action string) int {
	switch _, up, window := timeline.ReadDoing(action); {
	case !window:
		return 1
	case up:
		return 0
	}
	return 2
}
