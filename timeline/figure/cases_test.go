package figure_test

import (
	"encoding/json"
	"math"
	"os"
	"testing"

	"github.com/stretchr/testify/require"

	"emberbeat/timeline"
	. "emberbeat/timeline/figure"
)

// given is what a case is worked out from.
type given map[string]any

func (g given) x(name string) float64 { return number(g[name]) }

func number(v any) float64 {
	x, ok := v.(float64)
	if !ok {
		return Unknown()
	}
	return x
}

func (g given) list(name string) []any { l, _ := g[name].([]any); return l }

func (g given) xs(name string) (list []float64) {
	for _, v := range g.list(name) {
		list = append(list, number(v))
	}
	return list
}

func (g given) vec(name string) Vec     { p := g.xs(name); return Vec{p[0], p[1], p[2]} }
func (g given) point(name string) Point { p := g.xs(name); return Point{p[0], p[1]} }
func (g given) in(name string) given    { return given(g[name].(map[string]any)) }

func (g given) sweep() *Envelope {
	at := Vec{}
	if g["p"] != nil {
		at = g.vec("p")
	}
	e := Sweep(at, Direction(orZero(g.x("pan")), orZero(g.x("tilt"))), g.x("height"), g.x("tolerance"), g.x("r0"), g.x("half_angle"))
	return &e
}

func orZero(x float64) float64 {
	if Known(x) {
		return x
	}
	return 0
}

func (g given) pulses(name string) (list []Pulse) {
	for _, v := range g.list(name) {
		p := v.([]any)
		list = append(list, Pulse{number(p[0]), number(p[1]), number(p[2])})
	}
	return list
}

func (g given) hits(name string) (list []Hit) {
	for _, v := range g.list(name) {
		p := v.([]any)
		list = append(list, Hit{number(p[0]), number(p[1])})
	}
	return list
}

func pair(p Point) []any          { return []any{p.X, p.Y} }
func reached(gap float64) float64 { return max(0, gap) }

func orNull(x float64, ok bool) any {
	if !ok || !Known(x) {
		return nil
	}
	return x
}

// worked are the functions of the cases, by the name that they have there.
var worked = map[string]func(given) map[string]any{
	"direction": func(g given) map[string]any {
		d := Direction(g.x("pan"), g.x("tilt"))
		out := map[string]any{"d": []any{d.X, d.Y, d.Z}, "lean": d.Lean(), "heading": nil}
		if h, ok := d.Heading(); ok {
			out["heading"] = pair(h)
		}
		return out
	},
	"envelope": func(g given) map[string]any {
		e := g.sweep()
		return map[string]any{"length": e.Length, "axis": e.Axis, "widest": e.Widest()}
	},
	"top_bottom": func(g given) map[string]any {
		e := g.sweep()
		out := map[string]any{"top": e.Top(), "bottom": e.Bottom(), "splash": nil}
		if s, ok := e.Spread(0); ok {
			out["splash"] = map[string]any{"x": s.At.X, "y": s.At.Y, "radius": s.Radius}
		}
		return out
	},
	"line": func(g given) map[string]any {
		e, a, b := g.sweep(), g.point("from"), g.point("to")
		return map[string]any{"unit": e.At.Plan().ToPiece(a, b), "axis": e.AxisToLine(a, b), "reach": reached(e.ToLine(a, b))}
	},
	"mark": func(g given) map[string]any {
		e, c := g.sweep(), Cylinder{g.point("at"), g.x("radius"), g.x("z0"), g.x("z1")}
		return map[string]any{"unit": e.At.Plan().ToDisc(c.At, c.Radius), "axis": e.AxisToMark(c), "reach": reached(e.ToMark(c))}
	},
	"wall": func(g given) map[string]any {
		return map[string]any{"reach": reached(g.sweep().ToWall(Wall{g.point("from"), g.point("to"), g.x("z0"), g.x("z1")}))}
	},
	"body": func(g given) map[string]any {
		return map[string]any{"reach": reached(g.sweep().ToBody(g.vec("at"), g.x("radius")))}
	},
	"throw": func(g given) map[string]any {
		h, z, lean := g.x("height"), g.x("z"), g.x("lean")
		return map[string]any{"throw": Throw(h, z, lean), "flight": Flight(h, z, lean)}
	},
	"throw_upper": func(g given) map[string]any {
		h, z, lean, aim := g.x("height"), g.x("z"), g.x("lean"), g.x("aim")
		far, ok := ThrowUpper(h, z, lean, aim)
		return map[string]any{"throw": orNull(far, ok), "apex": Apex(h, lean, aim), "most": ThrowMost(h, max(0, z)), "lean_most": LeanMost(h, max(0, z))}
	},
	"landing": func(g given) map[string]any {
		far, _ := ThrowUpper(g.x("height"), g.x("z"), g.x("lean"), g.x("aim"))
		from, to := Point{0, g.x("y")}, Point{0, g.x("y") - far}
		path := Apart(from, to, Point{-1000, g.x("line_y")}, Point{1000, g.x("line_y")})
		return map[string]any{"landing_y": to.Y, "unit": from.ToPiece(Point{-1000, g.x("line_y")}, Point{1000, g.x("line_y")}), "path": path, "particles": reached(path - g.x("fallout"))}
	},
	"rows": func(g given) map[string]any {
		var rows []Row
		printed := []any{}
		for _, v := range g.list("asked") {
			a := given(v.(map[string]any))
			r := Row{a.x("required"), a.x("planned")}
			p := r.Printed()
			rows = append(rows, r)
			printed = append(printed, map[string]any{"by": a["by"], "from": a["from"], "required": orNull(p.Required, true), "planned": orNull(p.Planned, true), "state": string(r.State())})
		}
		i, state := Judge(rows)
		return map[string]any{"rows": printed, "governing": orNull(float64(i), i >= 0), "state": string(state)}
	},
	"missing": func(g given) map[string]any {
		list := []any{}
		for _, l := range timeline.Class(g["class"].(string)).Needs().Lacking(g.x("lean") > 1, g.x("height"), g.x("fallout")) {
			list = append(list, []any{l.Field, string(l.Word)})
		}
		return map[string]any{"missing": list}
	},
	"power": func(g given) map[string]any {
		p := HeatPower(g.x("radiated"), g.x("fuel"), g.x("heat"))
		return map[string]any{"power": p, "length": FlameLength(g.x("fuel") * g.x("heat")), "r158": HeatRadius(p, 1.58), "r473": HeatRadius(p, 4.73), "r946": HeatRadius(p, 9.46)}
	},
	"flux": func(g given) map[string]any {
		f := Flame{*g.sweep(), g.x("height"), g.x("power")}
		q := f.Receiver(g.point("at"), g.x("body"))
		flux, ok := f.Flux(q)
		if !ok {
			return map[string]any{"flux": nil}
		}
		return map[string]any{"flux": map[string]any{"point": PointFlux(f.Power, math.Hypot(math.Hypot(q.X-f.Middle().X, q.Y-f.Middle().Y), q.Z-f.Middle().Z)), "line": f.LineFlux(q), "flux": flux}}
	},
	"sum": func(g given) map[string]any {
		sum, n := 0.0, g.x("flames")
		for i := range int(n) {
			sum += PointFlux(g.x("power"), math.Hypot(g.x("distance"), g.x("pitch")*(float64(i)-(n-1)/2)))
		}
		return map[string]any{"flux": sum}
	},
	"heat_verdict": func(g given) map[string]any {
		l := HeatLevels{Window: g.x("window"), Dose: g.x("dose"), Share: g.x("share"), NotePeak: g.x("note_peak"), Peak: g.x("warn_peak"), Floor: g.x("floor")}
		peak, dose, word := l.Verdict(g.pulses("pulses"))
		return map[string]any{"peak": peak, "dose": dose, "verdict": string(word)}
	},
	"paper": func(g given) map[string]any {
		e := Sweep(g.vec("p"), Direction(g.x("pan"), g.x("tilt")), g.x("height"), g.x("tolerance"), 0, 0)
		p := PaperOf(&e, g.x("burst"), g.x("air"), g.x("hang"), g.x("streamer"))
		return map[string]any{"to": pair(p.To), "radius": p.Radius, "top": p.Top}
	},
	"paper_meets": func(g given) map[string]any {
		at := g.in("paper")
		p := Paper{at.vec("p").Plan(), at.point("to"), at.x("radius"), at.x("top")}
		pt, ht := g.xs("paper_time"), g.xs("hot_time")
		gap, overlap, word := p.Meets(HotShadow{g.point("hot_from"), g.point("hot_to"), g.x("hot_radius"), g.x("hot_bottom")}, Span{pt[0], pt[1]}, Span{ht[0], ht[1]})
		return map[string]any{"gap": gap, "overlap": overlap, "verdict": string(word)}
	},
	"per_kg": func(g given) map[string]any { return map[string]any{"m3": VolumePerKg(g.x("molar"), g.x("celsius"))} },
	"rise": func(g given) map[string]any {
		kg, v, per := g.x("kg"), g.x("volume"), g.x("per_kg")
		return map[string]any{"ppm": Rise(kg, per, v), "displaced": Displaced(kg, per, v), "oxygen": Oxygen(kg * per / v)}
	},
	"after": func(g given) map[string]any {
		return map[string]any{"ppm": g.x("ppm") * Fading(g.x("ach"), g.x("seconds"))}
	},
	"layer": func(g given) map[string]any {
		return map[string]any{"ppm": Layer(g.x("kg"), g.x("per_kg"), g.x("area"), g.x("depth"))}
	},
	"burnt": func(g given) map[string]any {
		co2, o2 := Burnt(g.x("carbon"), g.x("hydrogen"), MolarFuel(g.x("carbon"), g.x("hydrogen")))
		return map[string]any{"co2_per_kg": co2, "o2_per_kg": o2}
	},
	"circuit": func(g given) map[string]any {
		parallel, n := g["joining"] == "parallel", int(g.x("igniters"))
		cable, load := CableLoop(g.x("cable"), g.x("per_km"), 20), Joined(parallel, n, g.x("ohms"))
		drawn := g.x("volts") / (g.x("rout") + cable + load)
		each := Each(parallel, n, drawn)
		return map[string]any{"cable": cable, "load": load, "drawn": drawn, "each": each, "share": each / g.x("all_fire"), "enough": each >= g.x("margin")*g.x("all_fire")}
	},
	"circuit_warm": func(g given) map[string]any {
		return map[string]any{"cable": CableLoop(g.x("cable"), g.x("per_km"), g.x("celsius"))}
	},
	"bank": func(g given) map[string]any {
		var outputs []Output
		for _, o := range g.hits("outputs") {
			outputs = append(outputs, Output{o.At, int(o.Amount)})
		}
		total, left, each := Together(g.x("volts"), g.x("inner"), outputs)
		list := []any{}
		for _, x := range each {
			list = append(list, x)
		}
		return map[string]any{"total": total, "volts": left, "each": list}
	},
	"together": func(g given) map[string]any {
		sum, n := MostAtOnce(g.hits("hits"), g.x("pulse"))
		return map[string]any{"amps": sum, "outputs": float64(n)}
	},
	"discharge": func(g given) map[string]any {
		after := AfterPulse(g.x("microfarad"), g.x("volts"), g.x("ohms"), g.x("pulse"))
		return map[string]any{"energy": Stored(g.x("microfarad"), g.x("volts")), "after": after, "next": Recharged(g.x("volts"), after, g.x("wait"), g.x("recharge"))}
	},
	"ohm": func(g given) map[string]any {
		m := Meter{g.x("meter"), g.x("zero"), g.x("igniter"), g.x("warm")}
		counts, fit := m.Reading(g.x("measured"), g["joining"] == "parallel", int(g.x("igniters")), g.x("ohms"), g.x("cable"))
		fits := []any{}
		for _, k := range counts {
			fits = append(fits, float64(k))
		}
		return map[string]any{"fits": fits, "verdict": string(fit)}
	},
	"window": func(g given) map[string]any {
		all := 0.0
		for _, h := range g.hits("hits") {
			all += h.Amount
		}
		return map[string]any{"most": MostWithin(g.hits("hits"), g.x("window")), "all": all}
	},
	"spotter": func(g given) map[string]any {
		var places []Point
		for _, p := range g.hits("places") {
			places = append(places, Point{p.At, p.Amount})
		}
		far, angle := Seen(g.point("at"), places, g.x("most"))
		list := []any{}
		for _, i := range far {
			list = append(list, float64(i))
		}
		return map[string]any{"far": list, "angle": angle}
	},
	"free_time": func(g given) map[string]any {
		b := Between{End: g.x("end"), Hang: g.x("hang_end"), Spread: g.x("spread"), Settle: g.x("settle"), Next: g.x("next_command"), NextSpread: g.x("spread_next"),
			Arm: g.x("arm"), Call: g.x("clear"), Inside: g.x("inside"), Walk: g.x("walk")}
		from, to, long := b.Out()
		return map[string]any{"enter": from, "leave": to, "free": long}
	},
}

// Every case is compared, by its id; none is left out. The cases come from a
// program of its own: see testdata/README.md.
func TestEveryCase(t *testing.T) {
	data, err := os.ReadFile("testdata/cases.json")
	require.NoError(t, err)
	var file struct {
		Tolerance struct{ Absolute, Relative float64 }
		Cases     []struct {
			ID, Fn  string
			In, Out map[string]any
		}
	}
	require.NoError(t, json.Unmarshal(data, &file))
	require.Len(t, file.Cases, 212)
	seen, used := map[string]bool{}, map[string]bool{}
	for _, c := range file.Cases {
		require.False(t, seen[c.ID], "%s stands twice", c.ID)
		seen[c.ID], used[c.Fn] = true, true
		work := worked[c.Fn]
		require.NotNil(t, work, "%s: nothing works out %s", c.ID, c.Fn)
		same(t, c.ID, any(c.Out), any(work(c.In)), file.Tolerance.Absolute, file.Tolerance.Relative)
	}
	require.Len(t, used, len(worked), "a function that no case asks for")
}

func same(t *testing.T, at string, want, got any, absolute, relative float64) {
	t.Helper()
	switch w := want.(type) {
	case float64:
		g, ok := got.(float64)
		require.True(t, ok, "%s: want %v, got %v", at, want, got)
		require.LessOrEqual(t, math.Abs(w-g), absolute+relative*math.Abs(w), "%s: want %v, got %v", at, w, g)
	case []any:
		g, ok := got.([]any)
		require.True(t, ok && len(g) == len(w), "%s: want %v, got %v", at, want, got)
		for i := range w {
			same(t, at, w[i], g[i], absolute, relative)
		}
	case map[string]any:
		g, ok := got.(map[string]any)
		require.True(t, ok && len(g) == len(w), "%s: want %v, got %v", at, want, got)
		for k := range w {
			same(t, at+" "+k, w[k], g[k], absolute, relative)
		}
	default:
		require.Equal(t, want, got, at)
	}
}
