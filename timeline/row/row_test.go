package row_test

import (
	"fmt"
	"testing"

	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"

	"emberbeat/timeline"
	"emberbeat/timeline/row"
	_ "emberbeat/timeline/testtool" // sets the seed
)

func TestLines(t *testing.T) {
	for _, c := range []struct{ line, want string }{
		{"12 jets, lip, 1.5 m apart", `count=12, name="jets", place="lip", apart=1.5`},
		{"12 jets, 1,5m apart", `count=12, name="jets", apart=1.5`},
		{"1 pot", `count=1, name="pot"`},
		{`4 "low" pots, riser, from=-3,4, to=3,4,1, article="Pot, small", fan=40, pan=-5, tilt=10, group=g`,
			`count=4, name="\"low\" pots", place="riser", from=-3,4,0, to=3,4,1, article="Pot, small", pan=-5, tilt=10, fan=40, group="g"`},
		{"jets, on=lip*", `name="jets", on="lip*"`},
		{"count=2, name=a, apart=2", `count=2, name="a", apart=2`},
		{"2 jets, 2 m apart, ", `count=2, name="jets", apart=2`},
	} {
		r, err := row.Parse(c.line)
		require.NoError(t, err, c.line)
		require.Equal(t, c.want, r.String())
	}
	for _, c := range []struct{ line, want string }{
		{"", "says no name"},
		{"12", "says no name"},
		{"jets, 1 m apart", "says not how many"},
		{"12 jets", "says not how far apart"},
		{"0 jets", `"0" must be how many, from 1 to 200`},
		{"201 jets, 1 m apart", "from 1 to 200"},
		{"2 jets, lip, edge", `"edge" is not understood`},
		{"2 jets, size=3", `"size" is nothing that a row says; it says count, name, place, on, apart`},
		{"2 jets, 0 m apart", `apart "0 m" must be a number from 0.001 to 1000`},
		{"2 jets, NaN apart", "must be a number"},
		{"2 jets, from=1", "must be x,y or x,y,z in metres"},
		{"2 jets, from=1,NaN", "must be x,y"},
		{"2 jets, to=1,2", "says to and not from"},
		{"2 jets, middle=1,2, from=1,2, 1 m apart", "write one of them"},
		{"2 jets, from=1,2, to=1,3, 1 m apart", "leave out one of them"},
		{"2 jets, on=lip*, 1 m apart", "has their places"},
		{"2 jets, 1 m apart, pan=170, fan=40", "farther than 180°"},
		{"2 j\xffts, 1 m apart", "is not UTF-8"},
	} {
		_, err := row.Parse(c.line)
		require.ErrorContains(t, err, c.want, c.line)
	}
}

// stage is a show with three positions, two articles and types to hang them on.
func stage(t testing.TB) *timeline.Show {
	s, err := timeline.NewShow("x", "Tour", timeline.Rate25).Edit(func(d *timeline.Draft) error {
		set := func(kind, id string, fields ...string) {
			k := timeline.KindOf(kind)
			r := k.New(timeline.ID(id))
			for i := 0; i < len(fields); i += 2 {
				require.NoError(t, k.Field(fields[i]).Set(r, timeline.Value{Text: fields[i+1], Items: []string{fields[i+1]}}))
			}
			d.Put("", r)
		}
		set("article", "jet", "name", "Cold jet", "control", "relay", "stock", "3")
		set("article", "spark", "name", "Spark", "control", "slots")
		set("banktype", "relays", "name", "Relay five", "kind", "relay", "outputs", "5")
		set("devicetype", "head", "name", "Spark head", "slots", "1.1")
		set("position", "l", "name", "Lip 7", "x", "2")
		set("position", "m", "name", "lip 2", "x", "-2", "y", "1")
		set("position", "r", "name", "Riser", "x", "9")
		return nil
	})
	require.NoError(t, err)
	return s
}

func rows(t testing.TB, lines ...string) (k row.Rows) {
	for _, line := range lines {
		r, err := row.Parse(line)
		require.NoError(t, err)
		k.Rows = append(k.Rows, r)
	}
	k.Article, k.Universe = "Cold jet", 1
	return k
}

func plan(k row.Rows, s *timeline.Show) (*row.Plan, error) {
	n := 0
	return k.Plan(timeline.Compile(s, nil), func(kind string) timeline.ID { n++; return timeline.ID(fmt.Sprintf("%s-%d", kind, n)) })
}

func told(t testing.TB, k row.Rows, s *timeline.Show) (effects, lines []string) {
	p, err := plan(k, s)
	require.NoError(t, err)
	next, err := s.Edit(p.Edit())
	require.NoError(t, err)
	require.Empty(t, timeline.Diff(next, p.Next), "what is told is what is made")
	for _, e := range p.Effects {
		effects = append(effects, fmt.Sprintf("%s at %s (%g,%g,%g) pan %g in %q on %q", e.Name, e.Position, e.At.X, e.At.Y, e.At.Z, e.Pan, e.Group, e.Output))
	}
	return effects, p.Lines
}

// TestRows follows rows by hand: about the middle, from a place on, from end to end
// with a fan, and on what is there; numbers go on after those that are there.
func TestRows(t *testing.T) {
	s := stage(t)
	effects, _ := told(t, rows(t, "3 jets, lip, 1.5 m apart", "2 jets, lip, from=1,2,3, 2 m apart"), s)
	require.Equal(t, []string{
		`jet 1 at lip 8 (-1.5,0,0) pan 0 in "jets" on ""`, `jet 2 at lip 9 (0,0,0) pan 0 in "jets" on ""`, `jet 3 at lip 10 (1.5,0,0) pan 0 in "jets" on ""`,
		`jet 4 at lip 11 (1,2,3) pan 0 in "jets" on ""`, `jet 5 at lip 12 (3,2,3) pan 0 in "jets" on ""`}, effects)
	k := rows(t, "6 jets, edge, from=-3,4, to=2,4,1, fan=50")
	k.Type = timeline.Ref{Kind: "banktype", ID: "relays"}
	effects, lines := told(t, k, s)
	require.Equal(t, `jet 1 at edge 1 (-3,4,0) pan -25 in "jets" on "Relay five 1 output 1"`, effects[0])
	require.Equal(t, `jet 6 at edge 6 (2,4,1) pan 25 in "jets" on "Relay five 2 output 1"`, effects[5])
	require.Equal(t, []string{"Cold jet: 6 placed, 3 in stock: 3 too few", "Relay five 1 is new, address 1", "Relay five 2 is new, address 2"}, lines)
	k = rows(t, "sparks, on=LIP*, article=spark", "1 spark")
	k.Type, k.Starts, k.Name = timeline.Ref{Kind: "devicetype", ID: "head"}, []timeline.Patch{{Universe: 2, Slot: 7}}, "head"
	k.Article = "spark"
	effects, lines = told(t, k, s)
	require.Equal(t, []string{
		`spark 1 at lip 2 (-2,1,0) pan 0 in "sparks" on "head 1 output 1"`, `spark 2 at Lip 7 (2,0,0) pan 0 in "sparks" on "head 2 output 1"`,
		`spark at spark (0,0,0) pan 0 in "" on "head 3 output 1"`}, effects)
	require.Contains(t, lines, "head 2 is new, from 2.8")
	p, err := plan(k, s)
	require.NoError(t, err)
	require.Equal(t, timeline.ID("m"), p.Next.Rig.Devices[0].Position, "a device of one head stands where its effect does")
	effects, lines = told(t, rows(t, "1 spark, group=sparks"), p.Next)
	require.Len(t, effects, 1)
	require.Equal(t, []string{`group "sparks" is there with 2 effects; these stand behind them`}, lines)
}

func TestRowsThatDoNotFit(t *testing.T) {
	s := stage(t)
	for _, c := range []struct {
		line, article, kind, id, want string
	}{
		{"2 jets, 1 m apart", "", "", "", "row 1: it says no article; add {article}"},
		{"2 jets, 1 m apart", "none", "", "", "none"},
		{"3 jets, on=lip*", "jet", "", "", `row 1: 2 positions are called "lip*", and the row has 3 effects`},
		{"jets, on=edge*", "jet", "", "", `no position is called "edge*"`},
		{"2 jets, 1 m apart", "jet", "devicetype", "head", "needs relay"},
		{"2 jets, 1 m apart", "jet", "devicetype", "gone", "{type} is gone"},
	} {
		k := rows(t, c.line)
		k.Article, k.Type = c.article, timeline.Ref{Kind: c.kind, ID: timeline.ID(c.id)}
		_, err := plan(k, s)
		require.ErrorContains(t, err, c.want)
	}
	_, err := plan(row.Rows{}, s)
	require.ErrorContains(t, err, "no row is given")
}

// However many stand in a row from end to end, its ends are where they were asked
// for and all are equally far apart; about a middle they are as far apart as asked.
func TestRowsStandEven(t *testing.T) {
	s := stage(t)
	rapid.Check(t, func(t *rapid.T) {
		n, apart := rapid.IntRange(2, 40).Draw(t, "n"), float64(rapid.IntRange(1, 4000).Draw(t, "apart"))/1000
		k := row.Rows{Article: "jet", Rows: []row.Row{{Count: n, Name: "jets", Apart: apart}}}
		p, err := plan(k, s)
		require.NoError(t, err)
		require.InDelta(t, 0, p.Effects[0].At.X+p.Effects[n-1].At.X, 0.0021)
		for i := 1; i < n; i++ {
			require.InDelta(t, apart, p.Effects[i].At.X-p.Effects[i-1].At.X, 0.0011)
		}
	})
}

// FuzzLine reads any line; what is read writes back to what reads the same.
func FuzzLine(f *testing.F) {
	for _, s := range []string{"12 jets, lip, 1.5 m apart", `4 pots, from=-3,4, to=3,4,1, article="Pot, small"`, "jets, on=lip*", `2 a"b, c\d, 1e-2 apart`, "2 jets, 1 m apart, tilt=-180"} {
		f.Add(s)
	}
	f.Fuzz(func(t *testing.T, line string) {
		r, err := row.Parse(line)
		if err != nil {
			return
		}
		again, err := row.Parse(r.String())
		require.NoError(t, err, r.String())
		require.Equal(t, r, again)
	})
}
