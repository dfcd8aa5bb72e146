package drawn_test

import (
	"fmt"
	"math"
	"strings"
	"testing"

	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"

	"emberbeat/timeline"
	"emberbeat/timeline/drawn"
	"emberbeat/timeline/figure"
	_ "emberbeat/timeline/testtool" // sets the seed
)

// jets is a drawing of two jets in a row, one of a third type, a wash light and a
// mark, in metres.
func jets() *drawn.Drawing {
	two := &drawn.Type{Name: "Invented Cold jet", Also: []string{"cold"}, Device: &timeline.DeviceType{Name: "Invented Cold jet", Slots: []timeline.Slot{
		{Block: 1, Number: 1, Role: timeline.OpenSlot, To: 255, From: 255}, {Block: 1, Number: 2, Role: timeline.OpenSlot, To: 255, From: 255}}}}
	up := figure.Vec{Z: 1}
	return &drawn.Drawing{Things: []drawn.Thing{
		{Name: "Jet", Number: "101", Kind: "fixture", Layer: "Pyro", Groups: []string{"row"}, Purpose: "effect", At: figure.Vec{X: 1}, Aim: up, Type: two, Starts: []timeline.Patch{{Universe: 1, Slot: 1}}},
		{Name: "Jet", Number: "102", Kind: "fixture", Layer: "Pyro", Groups: []string{"row"}, Purpose: "effect", At: figure.Vec{X: 3, Y: 1, Z: 0.5}, NoAim: "its device file has no beam", Type: two},
		{Name: "Wash 1", Kind: "fixture", Layer: "Light", At: figure.Vec{X: 5, Y: 5, Z: 6}, Type: &drawn.Type{Name: "Wash", Why: "the archive has no device file"}, NoAim: "x"},
		{Name: "Truss", Kind: "truss", Layer: "Rig", At: figure.Vec{Z: 7}, NoAim: "x"},
		{Name: "Mark A", Kind: "focus point", Layer: "Rig", At: figure.Vec{X: -2}, NoAim: "x"},
	}}
}

// ids hands in ids that no record has had.
func ids() func(string) timeline.ID {
	return func(kind string) timeline.ID { lastID++; return timeline.ID(fmt.Sprintf("%s-%d", kind, lastID)) }
}

var lastID int

// show has an article for the jets.
func show(t testing.TB) *timeline.Show {
	s, err := timeline.NewShow("x", "Tour", timeline.Rate25).Edit(func(d *timeline.Draft) error {
		a := timeline.KindOf("article").New("cold").(*timeline.Article)
		a.Name, a.Control = "Cold jet", timeline.SlotControl
		b := timeline.KindOf("article").New("pot").(*timeline.Article)
		b.Name, b.Control = "Flash pot", timeline.IgniterControl
		d.Put("", a, b)
		return nil
	})
	require.NoError(t, err)
	return s
}

func plan(t testing.TB, s *timeline.Show, k drawn.Taking) (*drawn.Plan, *timeline.Show) {
	p, err := k.Plan(s, ids())
	require.NoError(t, err)
	next, err := s.Edit(p.Edit())
	require.NoError(t, err)
	return p, next
}

func happens(p *drawn.Plan) []string {
	var list []string
	for _, r := range p.Rows {
		list = append(list, r.Name+": "+r.Happens)
	}
	return list
}

var means = []drawn.Meaning{{Theirs: "cold", Ours: timeline.Ref{Kind: "article", ID: "cold"}}}

// A drawing is taken over, and again: then nothing changes, and what was moved in
// the show stays until it is to be replaced.
func TestTakingOver(t *testing.T) {
	k := drawn.Taking{Drawing: jets(), Means: means}
	p, s := plan(t, show(t), k)
	require.Equal(t, []string{
		`Jet 101: position is new; device is new; effect "Cold jet" is new; wired`,
		`Jet 102: position is new; device is new; effect "Cold jet" is new; wired`,
		"row: group of 2 effects is new",
		"1 × Wash: left out: nothing says that it is a special effect; choose it by name, type or layer",
		"1 × truss: left out: it is no device",
		"1 × focus point: left out: it is no device",
	}, happens(p))
	require.Contains(t, p.Lines, "2 positions new, 1 device type new, 2 devices new, 2 effects new, 2 wires new, 1 group new")
	require.Contains(t, p.Lines, "1 effect without a direction in the drawing: it is not given, and new ones are noted so")
	require.Contains(t, p.Lines, "3 things of the drawing left out")
	require.Equal(t, []string{"1.1", "not given"}, []string{p.Rows[0].Address, p.Rows[1].Address})
	require.Equal(t, []string{"pan 0° tilt 0°", "not given: its device file has no beam"}, []string{p.Rows[0].Direction, p.Rows[1].Direction})
	require.Equal(t, "direction not given by the drawing", s.Rig.Placed[1].Note)
	require.Empty(t, s.Rig.Placed[0].Note)
	require.Len(t, s.Stock.DeviceTypes, 1)
	require.Equal(t, s.Rig.Groups[0].Members, []timeline.ID{s.Rig.Placed[0].ID, s.Rig.Placed[1].ID})
	for i, w := range s.Rig.Wires {
		require.Equal(t, []timeline.ID{s.Rig.Placed[i].ID, s.Rig.Devices[i].ID}, []timeline.ID{w.Placed, w.Driver})
	}

	p, _ = plan(t, s, k)
	require.True(t, p.Empty())
	require.Equal(t, "Jet 101: position is there; device is there; effect is there; its wires stay", happens(p)[0])

	s, err := s.Edit(func(d *timeline.Draft) error {
		return d.Set(timeline.Ref{Kind: "position", ID: s.Rig.Positions[0].ID}, "x", timeline.Value{Text: "1.5"})
	}, func(d *timeline.Draft) error {
		return d.Set(timeline.Ref{Kind: "device", ID: s.Rig.Devices[0].ID}, "starts", timeline.Value{Items: []string{"2.7"}})
	})
	require.NoError(t, err)
	p, _ = plan(t, s, k)
	require.True(t, p.Empty())
	require.Equal(t, "Jet 101: position stays at 1.5,0,0, 0.5 m from here; device stays at 2.7, and differs; effect is there; its wires stay", happens(p)[0])
	require.Contains(t, p.Lines, "left as it is in the show, though the drawing says otherwise: 2 records; ask for the same names to be replaced, and it goes where the drawing says")
	k.Replace = true
	p, s = plan(t, s, k)
	require.Equal(t, "Jet 101: position is moved by 0.5 m from 1.5,0,0; device has its address and position from the drawing; it had 2.7; effect is there; its wires stay", happens(p)[0])
	require.Equal(t, 1.0, s.Rig.Positions[0].X)
	require.Equal(t, []timeline.Patch{{Universe: 1, Slot: 1}}, s.Rig.Devices[0].Starts)
}

// A group that is there gets what is drawn in it only where that was asked for, and
// an effect is not wired to a device of several heads.
func TestWhatIsThereIsAskedAbout(t *testing.T) {
	d := jets()
	_, s := plan(t, show(t), drawn.Taking{Drawing: d, Means: means})
	third := d.Things[0]
	third.Name, third.At.X, third.Starts, third.Type = "Bar", 9, nil, &drawn.Type{Name: "cold bar", Also: []string{"cold"}, Device: &timeline.DeviceType{Name: "bar", Slots: []timeline.Slot{
		{Block: 1, Number: 1, Head: 1, Role: timeline.OpenSlot}, {Block: 1, Number: 2, Head: 2, Role: timeline.OpenSlot}}}}
	d.Things = append(d.Things, third)
	p, next := plan(t, s, drawn.Taking{Drawing: d, Means: means})
	require.Equal(t, `Bar: position is new; device is new; effect "Cold jet" is new; not wired: its device has several heads`, happens(p)[2])
	require.Equal(t, "row: group stays as it is, without 1 effect", happens(p)[3])
	require.Len(t, next.Rig.Groups[0].Members, 2)
	require.Len(t, next.Rig.Wires, 2)
	p, next = plan(t, s, drawn.Taking{Drawing: d, Means: means, Replace: true})
	require.Equal(t, "row: group gets 1 effect more", happens(p)[3])
	require.Len(t, next.Rig.Groups[0].Members, 3)
}

// What is chosen comes, as what it was chosen; nothing else does.
func TestChoosing(t *testing.T) {
	for _, c := range []struct {
		name string
		k    drawn.Taking
		want map[string]int
		line string
	}{
		{"what the drawing calls effects", drawn.Taking{}, map[string]int{"position": 2, "device": 2}, ""},
		{"a name", drawn.Taking{Only: []string{"jet"}}, map[string]int{"position": 2, "device": 2}, ""},
		{"a number", drawn.Taking{Only: []string{"101"}}, map[string]int{"position": 1, "device": 1}, ""},
		{"a type", drawn.Taking{Only: []string{"*COLD*"}}, map[string]int{"position": 2, "device": 2}, ""},
		{"a group", drawn.Taking{Only: []string{"row"}}, map[string]int{"position": 2, "device": 2}, ""},
		{"a truss", drawn.Taking{Only: []string{"Truss"}}, map[string]int{"position": 1}, ""},
		{"no device type", drawn.Taking{Only: []string{"W*h 1"}}, map[string]int{"position": 1}, ""},
		{"a layer", drawn.Taking{Layers: []string{"pyro", "light"}}, map[string]int{"position": 3, "device": 2}, ""},
		{"layer and name", drawn.Taking{Layers: []string{"light"}, Only: []string{"*"}}, map[string]int{"position": 1}, ""},
		{"positions", drawn.Taking{Positions: []string{"jet", "truss"}}, map[string]int{"position": 3}, ""},
		{"no device for what is fired", drawn.Taking{Means: []drawn.Meaning{{Theirs: "cold", Ours: timeline.Ref{Kind: "article", ID: "pot"}}}}, map[string]int{"position": 2, "placed": 2, "group": 1}, ""},
	} {
		t.Run(c.name, func(t *testing.T) {
			c.k.Drawing = jets()
			_, s := plan(t, show(t), c.k)
			have := map[string]int{"position": len(s.Rig.Positions), "device": len(s.Rig.Devices), "placed": len(s.Rig.Placed), "group": len(s.Rig.Groups)}
			for kind, n := range have {
				require.Equal(t, c.want[kind], n, kind)
			}
		})
	}
	for _, c := range []struct {
		k    drawn.Taking
		want string
	}{
		{drawn.Taking{Only: []string{"jot"}}, `"jot": names nothing of the drawing; it has the layers "Pyro" (2), "Rig" (2), "Light" (1); the types "Invented Cold jet" (2), `},
		{drawn.Taking{Layers: []string{"Jet"}}, `names nothing of the drawing`},
		{drawn.Taking{Means: []drawn.Meaning{{Theirs: "pot"}}}, `"pot": names nothing`},
		{drawn.Taking{Ties: []drawn.Tie{tie(t, "Jet=0,0")}}, `the drawing has 2 things called "Jet"`},
		{drawn.Taking{Ties: []drawn.Tie{tie(t, "Mark B=0,0")}}, `the drawing has nothing called "Mark B"`},
		{drawn.Taking{Ties: []drawn.Tie{tie(t, "0,0=0,0"), tie(t, "0.1,0=5,0")}}, "take points at least 0.5 m apart"},
		{drawn.Taking{Ties: []drawn.Tie{tie(t, "0,0=0,0"), tie(t, "1000,0=1,0")}}, "they are not the same points, or the drawing has another unit"},
		{drawn.Taking{Ties: make([]drawn.Tie, 3)}, "3 points are tied; give two"},
	} {
		c.k.Drawing = jets()
		_, err := c.k.Plan(show(t), ids())
		require.ErrorContains(t, err, c.want)
	}
}

// Addresses that do not fit the type are not taken; those that clash are told.
func TestAddresses(t *testing.T) {
	d := jets()
	d.Things[1].Starts = []timeline.Patch{{Universe: 1, Slot: 2}}
	p, _ := plan(t, show(t), drawn.Taking{Drawing: d})
	require.Contains(t, strings.Join(p.Lines, "\n"), "Jet 101 and Jet 102 share slots 2 to 2 of universe 1")
	d.Things[1].Starts = append(d.Things[1].Starts, timeline.Patch{Universe: 9, Slot: 9})
	p, s := plan(t, show(t), drawn.Taking{Drawing: d, Space: "stage"})
	require.Equal(t, "not taken: the drawing gives 1.2, 9.9, and the type has 1 block", p.Rows[1].Address)
	require.Nil(t, s.Rig.Devices[1].Starts)
	require.Equal(t, "stage", s.Rig.Devices[1].Space)
}

func tie(t testing.TB, text string) drawn.Tie {
	x, err := drawn.ParseTie(text)
	require.NoError(t, err)
	return x
}

// Two points turn and shift a drawing, and what does not fit is told. Derived: from
// (1,0) and (3,1) to (0,0) and (0,√5) the turn is 90° less atan(1/2).
func TestTwoPoints(t *testing.T) {
	d := jets()
	d.Things[0].Name, d.Things[1].Name = "A", "B"
	p, s := plan(t, show(t), drawn.Taking{Drawing: d, Ties: []drawn.Tie{tie(t, "A=0,0,2"), tie(t, "3,1=0,2.236")}})
	require.Equal(t, "two points are tied: the drawing is turned by 63.43°; they are 2.236 m apart there and 2.236 m here: the distance differs by 0 m, so each is off by 0 m", p.Lines[0])
	require.Equal(t, "heights are those of the drawing and 2 m", p.Lines[1])
	a, b := s.Rig.Positions[0], s.Rig.Positions[1]
	require.Equal(t, []float64{0, 0, 2, 0, 2.236, 2.5}, []float64{a.X, a.Y, a.Z, b.X, b.Y, b.Z})
	p, _ = plan(t, show(t), drawn.Taking{Drawing: d, Ties: []drawn.Tie{tie(t, "A=0,0,2"), tie(t, "B=0,2.336,2.7")}})
	require.Contains(t, p.Lines[0], "they are 2.236 m apart there and 2.336 m here: the distance differs by 0.1 m, so each is off by 0.05 m")
	require.Contains(t, p.Lines[1], "the two points differ by 0.2 m in it")
	p, s = plan(t, show(t), drawn.Taking{Drawing: d, Ties: []drawn.Tie{tie(t, "A=-6,1")}})
	require.Contains(t, p.Lines[0], "one point is tied: the turn of the drawing is taken for that of the stage")
	require.Equal(t, -6.0, s.Rig.Positions[0].X)
	require.Equal(t, -4.0, s.Rig.Positions[1].X)
}

// However a drawing lies, two points bring it back: everything is where it was, and
// points the way it did.
func TestTwoPointsBringBack(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		number := func(name string) float64 { return math.Round(rapid.Float64Range(-50, 50).Draw(t, name)*1000) / 1000 }
		turn, dx, dy := rapid.Float64Range(-math.Pi, math.Pi).Draw(t, "turn"), number("dx"), number("dy")
		sin, cos := math.Sincos(turn)
		moved := func(x, y float64) figure.Vec { return figure.Vec{X: cos*x - sin*y + dx, Y: sin*x + cos*y + dy} }
		x, y := number("x"), number("y")
		pan, tilt := rapid.Float64Range(-89, 89).Draw(t, "pan"), rapid.Float64Range(-179, 179).Draw(t, "tilt")
		aim := figure.Direction(pan, tilt)
		there := figure.Vec{X: cos*aim.X - sin*aim.Y, Y: sin*aim.X + cos*aim.Y, Z: aim.Z}
		d := &drawn.Drawing{Things: []drawn.Thing{
			{Name: "A", Kind: "truss", At: moved(0, 0)}, {Name: "B", Kind: "truss", At: moved(10, 3)},
			{Name: "jet", Kind: "fixture", At: moved(x, y), Aim: there}}}
		k := drawn.Taking{Drawing: d, Only: []string{"jet"}, Means: []drawn.Meaning{{Theirs: "jet", Ours: timeline.Ref{Kind: "article", ID: "pot"}}},
			Ties: []drawn.Tie{{Thing: "A"}, {Thing: "B", Here: figure.Vec{X: 10, Y: 3}}}}
		s := timeline.NewShow("x", "Tour", timeline.Rate25)
		s, err := s.Edit(func(d *timeline.Draft) error {
			a := timeline.KindOf("article").New("pot").(*timeline.Article)
			a.Control = timeline.IgniterControl
			d.Put("", a)
			return nil
		})
		require.NoError(t, err)
		p, err := k.Plan(s, ids())
		require.NoError(t, err)
		s, err = s.Edit(p.Edit())
		require.NoError(t, err)
		require.InDelta(t, x, s.Rig.Positions[0].X, 0.0015)
		require.InDelta(t, y, s.Rig.Positions[0].Y, 0.0015)
		is := figure.Direction(s.Rig.Placed[0].Pan, s.Rig.Placed[0].Tilt)
		require.InDeltaSlice(t, []float64{aim.X, aim.Y, aim.Z}, []float64{is.X, is.Y, is.Z}, 0.001)
	})
}

// Names of things are told apart, and nothing gets the name of another.
func TestNamesApart(t *testing.T) {
	d := &drawn.Drawing{}
	for _, n := range [][2]string{{"jet", ""}, {"jet", "7"}, {"Jet", "7"}, {"jet", "9"}, {"jet 4", ""}, {"", ""}, {"jet 1", ""}} {
		d.Things = append(d.Things, drawn.Thing{Name: n[0], Number: n[1], Kind: "truss"})
	}
	p, s := plan(t, show(t), drawn.Taking{Drawing: d, Positions: []string{"*"}})
	require.Len(t, s.Rig.Positions, len(d.Things))
	seen := map[string]bool{}
	for _, x := range p.Rows {
		require.False(t, seen[strings.ToLower(x.Name)], "%q twice in %v", x.Name, happens(p))
		seen[strings.ToLower(x.Name)] = true
	}
	require.Equal(t, "jet 9", p.Rows[3].Name)
	require.Equal(t, "truss", p.Rows[5].Name)
}

// FuzzTie reads any text; what is read writes back to what reads the same.
func FuzzTie(f *testing.F) {
	for _, s := range []string{"A=1,2", "1,2=3,4,5", "a=b=-1.5,2e1", "=1,2", "x", "1,2,3=4,5", "A= 1 , 2 "} {
		f.Add(s)
	}
	f.Fuzz(func(t *testing.T, text string) {
		x, err := drawn.ParseTie(text)
		if err != nil {
			return
		}
		y, err := drawn.ParseTie(x.String())
		require.NoError(t, err, x)
		require.Equal(t, x.String(), y.String())
		require.Equal(t, x.Above, y.Above)
	})
}
