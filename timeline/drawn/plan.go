package drawn

import (
	"cmp"
	"fmt"
	"math"
	"slices"
	"strings"

	"emberbeat/timeline"
	"emberbeat/timeline/figure"
)

// Row tells what becomes of one thing, or of several that are left out alike.
type Row struct {
	Name      string
	Drawn     string     // what it is drawn as
	Place     bool       // At counts
	At        figure.Vec // m, on our stage
	Type      string     // our device type
	Address   string
	Direction string // pan and tilt, or why not
	Happens   string
}

// Plan is what taking over comes to.
type Plan struct {
	Rows  []Row
	Lines []string // what else is to be known
	put   []timeline.Record
}

// Empty reports whether nothing of the show is changed.
func (p *Plan) Empty() bool { return len(p.put) == 0 }

// Edit gives the edit that takes everything over as one step.
func (p *Plan) Edit() timeline.Edit {
	return func(d *timeline.Draft) error {
		d.Put("", p.put...)
		return nil
	}
}

// Near is how far two places may be apart, in metres, and be one; a judgement,
// finer than anybody measures on a stage.
const near = 0.005

// Plan works out what taking over comes to in a show. newID hands in ids that no
// record of a kind has. An error names the argument in braces that is wrong.
func (k *Taking) Plan(s *timeline.Show, newID func(kind string) timeline.ID) (*Plan, error) {
	if err := k.check(); err != nil {
		return nil, err
	}
	f, lines, err := k.Drawing.tied(k.Ties)
	if err != nil {
		return nil, &timeline.ValueError{Field: "at", Value: k.tieText(), Want: "cannot be used: " + err.Error()}
	}
	t := &taker{Taking: k, show: s, newID: newID, frame: f, plan: &Plan{}, types: map[string]*timeline.DeviceType{}, count: map[string]int{}}
	t.plan.Lines = append(t.plan.Lines, lines...)
	names := k.Drawing.named()
	var groups []string
	members := map[string][]timeline.ID{}
	out := newTally()
	for i := range k.Drawing.Things {
		x := &k.Drawing.Things[i]
		how, why := k.how(x)
		if how == leftOut {
			out.add(x, why)
			continue
		}
		placed := t.take(x, names[i], how)
		if n := len(x.Groups); n > 0 && placed != "" {
			name := timeline.CleanText(x.Groups[n-1])
			if members[name] == nil {
				groups = append(groups, name)
			}
			members[name] = append(members[name], placed)
		}
	}
	for _, name := range groups {
		t.group(name, members[name])
	}
	t.plan.Rows = append(t.plan.Rows, out.rows()...)
	t.lines(out)
	return t.plan, nil
}

func (k *Taking) tieText() string {
	var list []string
	for _, t := range k.Ties {
		list = append(list, t.String())
	}
	return strings.Join(list, " ")
}

// tally counts what is left out alike.
type tally struct {
	order []tallied
	count map[tallied]int
}

type tallied struct{ what, why string }

func newTally() *tally { return &tally{count: map[tallied]int{}} }

func (l *tally) add(t *Thing, why string) {
	key := tallied{cmp.Or(t.typeName(), t.Kind), why}
	if l.count[key] == 0 {
		l.order = append(l.order, key)
	}
	l.count[key]++
}

func (l *tally) rows() []Row {
	var rows []Row
	for _, key := range l.order {
		rows = append(rows, Row{Name: fmt.Sprintf("%d × %s", l.count[key], key.what), Happens: "left out: " + key.why})
	}
	return rows
}

// taker works a taking out.
type taker struct {
	*Taking
	show  *timeline.Show
	newID func(kind string) timeline.ID
	frame frame
	plan  *Plan
	types map[string]*timeline.DeviceType // that come with the drawing, by name
	count map[string]int                  // what is new, changed and left out, by words
	noAim int
	open  bool // a new device type has slots whose meaning nobody knows
}

// take works out what becomes of one thing, and gives the placed effect that it
// is, if any.
func (t *taker) take(x *Thing, name string, how how) timeline.ID {
	row := Row{Name: name, Drawn: cmp.Or(x.typeName(), x.Kind)}
	if x.NoAt != "" {
		row.Happens = "left out: " + x.NoAt
		t.count["left out"]++
		t.plan.Rows = append(t.plan.Rows, row)
		return ""
	}
	at := t.frame.place(x.At)
	at = figure.Vec{X: mm(at.X), Y: mm(at.Y), Z: mm(at.Z)}
	row.Place, row.At = true, at
	if math.Abs(at.X) > 10000 || math.Abs(at.Y) > 10000 || math.Abs(at.Z) > 1000 {
		row.Happens = "left out: it stands farther from the stage than a show can say"
		t.count["left out"]++
		t.plan.Rows = append(t.plan.Rows, row)
		return ""
	}
	pos, said := t.position(name, at)
	happens := []string{said}
	var placed timeline.ID
	if how == asDevice && pos != "" {
		row.Direction = t.direction(x)
		var device *timeline.Device
		article := t.show.Stock.Article(t.means(x, "article"))
		if article == nil || article.Control == timeline.SlotControl {
			device, said = t.device(x, name, pos, &row)
			happens = append(happens, said)
		}
		if article != nil {
			placed, said = t.placed(x, name, pos, article)
			happens = append(happens, said)
			happens = append(happens, t.wire(placed, device)...)
		}
	}
	row.Happens = strings.Join(slices.DeleteFunc(happens, func(s string) bool { return s == "" }), "; ")
	t.plan.Rows = append(t.plan.Rows, row)
	return placed
}

// put keeps a record for the edit, and counts it.
func (t *taker) put(r timeline.Record, what string) {
	t.plan.put = append(t.plan.put, r)
	t.count[what]++
}

// calledSo finds what of a list has a name, without regard to case, and how many.
func calledSo[R any](list []*R, name string, nameOf func(*R) string) (found *R, n int) {
	for _, r := range list {
		if strings.EqualFold(nameOf(r), name) {
			if n++; found == nil {
				found = r
			}
		}
	}
	return found, n
}

// position puts a place onto the stage.
func (t *taker) position(name string, at figure.Vec) (timeline.ID, string) {
	have, n := calledSo(t.show.Rig.Positions, name, func(p *timeline.StagePosition) string { return p.Name })
	switch {
	case n > 1:
		return "", fmt.Sprintf("left out: the show has %d positions of that name", n)
	case n == 0:
		p := &timeline.StagePosition{Base: timeline.Base{ID: t.newID("position")}, Name: name, X: at.X, Y: at.Y, Z: at.Z}
		t.put(p, "position new")
		return p.ID, "position is new"
	}
	off := math.Sqrt((have.X-at.X)*(have.X-at.X) + (have.Y-at.Y)*(have.Y-at.Y) + (have.Z-at.Z)*(have.Z-at.Z))
	switch {
	case off <= near:
		return have.ID, "position is there"
	case !t.Replace:
		t.count["kept as it is"]++
		return have.ID, fmt.Sprintf("position stays at %s, %s m from here", writeVec(figure.Vec{X: have.X, Y: have.Y, Z: have.Z}, 3), metres(off))
	}
	next := *have
	next.X, next.Y, next.Z = at.X, at.Y, at.Z
	t.put(&next, "position moved")
	return have.ID, fmt.Sprintf("position is moved by %s m from %s", metres(off), writeVec(figure.Vec{X: have.X, Y: have.Y, Z: have.Z}, 3))
}

// placed puts an effect at a position.
func (t *taker) placed(x *Thing, name string, pos timeline.ID, article *timeline.Article) (timeline.ID, string) {
	if x.NoAim != "" {
		t.noAim++
	}
	have, n := calledSo(t.show.Rig.Placed, name, func(p *timeline.Placed) string { return p.Name })
	next := timeline.Placed{Base: timeline.Base{ID: ""}, Name: name}
	switch {
	case n > 1:
		return "", fmt.Sprintf("no effect: the show has %d placed effects of that name", n)
	case n == 1:
		next = *have
	default:
		next.ID = t.newID("placed")
		if x.NoAim != "" {
			next.Note = "direction not given by the drawing"
		}
	}
	next.Article, next.Position = article.ID, pos
	if x.NoAim == "" {
		next.Pan, next.Tilt = PanTilt(t.frame.turn(x.Aim))
	}
	switch {
	case n == 0:
		t.put(&next, "effect new")
		return next.ID, fmt.Sprintf("effect %q is new", t.show.Called(article))
	case next.Article == have.Article && next.Position == have.Position && next.Pan == have.Pan && next.Tilt == have.Tilt:
		return have.ID, "effect is there"
	case !t.Replace:
		t.count["kept as it is"]++
		return have.ID, "effect stays as it is, and differs"
	}
	t.put(&next, "effect changed")
	return have.ID, fmt.Sprintf("effect is %q, here and so turned now", t.show.Called(article))
}

// PanTilt gives the angles, in degrees, by which a direction is turned from straight
// up: the inverse of figure.Direction, pan from -90 to 90.
func PanTilt(d figure.Vec) (pan, tilt float64) {
	pan = math.Asin(max(-1, min(1, d.X))) * 180 / math.Pi
	if math.Hypot(d.Y, d.Z) > 1e-6 {
		tilt = math.Atan2(d.Y, d.Z) * 180 / math.Pi
	}
	return math.Round(pan*100)/100 + 0, math.Round(tilt*100)/100 + 0
}

// direction tells where a thing points on our stage, or why that is not known.
func (t *taker) direction(x *Thing) string {
	if x.NoAim != "" {
		return "not given: " + x.NoAim
	}
	pan, tilt := PanTilt(t.frame.turn(x.Aim))
	return fmt.Sprintf("pan %g° tilt %g°", pan, tilt)
}
