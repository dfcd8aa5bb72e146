package mvr_test

import (
	"archive/zip"
	"bytes"
	"encoding/json"
	"fmt"
	"io/fs"
	"math"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"github.com/stretchr/testify/require"

	"emberbeat/shows/mvr"
	"emberbeat/timeline"
	"emberbeat/timeline/drawn"
	"emberbeat/timeline/figure"
	"emberbeat/timeline/testtool"
)

const sceneName = "GeneralSceneDescription.xml"

// pack packs files, stored as the standard asks for.
func pack(t testing.TB, files map[string]string) []byte {
	t.Helper()
	var b bytes.Buffer
	z := zip.NewWriter(&b)
	for name, text := range files {
		w, err := z.CreateHeader(&zip.FileHeader{Name: name, Method: zip.Store})
		require.NoError(t, err)
		_, err = w.Write([]byte(text))
		require.NoError(t, err)
	}
	require.NoError(t, z.Close())
	return b.Bytes()
}

func read(b []byte) (*drawn.Drawing, error) { return mvr.Read(bytes.NewReader(b), int64(len(b))) }

// scene puts layers into a scene.
func scene(layers string) string {
	return `<?xml version="1.0" encoding="UTF-8" standalone="no" ?>
<GeneralSceneDescription verMajor="1" verMinor="5"><UserData><Data provider="invented" ver="1"/></UserData><Scene>
<AUXData><Symdef uuid="S" name="no matter"><ChildList/></Symdef><Position uuid="AA-1" name="lip"/></AUXData>
<Layers>` + layers + `</Layers></Scene></GeneralSceneDescription>`
}

func fixture(name, inside string) string {
	return fmt.Sprintf(`<Fixture name=%q uuid="%s">%s</Fixture>`, name, name, inside)
}

// jet is an invented device: one beam that goes up where the device stands as it is
// drawn, since it is turned about X by half a turn.
const jet = `<?xml version="1.0" encoding="UTF-8"?>
<GDTF DataVersion="1.2"><FixtureType Name="Cold jet" Manufacturer="Invented Works"><Geometries>
<Geometry Name="Body"><Beam Name="Nozzle" Position="{1,0,0,0}{0,-1,0,0}{0,0,-1,0.2}{0,0,0,1}"/></Geometry>
</Geometries><DMXModes><DMXMode Name="Two" Geometry="Body"><DMXChannels>
<DMXChannel DMXBreak="1" Offset="1" Geometry="Body"><LogicalChannel Attribute="Jet"><ChannelFunction DMXFrom="0/1"/></LogicalChannel></DMXChannel>
<DMXChannel DMXBreak="1" Offset="2" Geometry="Body"><LogicalChannel Attribute="Arm"><ChannelFunction DMXFrom="0/1"/></LogicalChannel></DMXChannel>
</DMXChannels></DMXMode></DMXModes></FixtureType></GDTF>`

func gdtf(t testing.TB, text string) string {
	return string(pack(t, map[string]string{"description.xml": text}))
}

// stage is a small drawing: a layer 1.2 m up, a group that is turned by a quarter to
// the left and stands at 10 m, two jets in it, a truss and a mark.
const stage = `<Layer name="Pyro" uuid="L1"><Matrix>{1,0,0}{0,1,0}{0,0,1}{0,0,1200}</Matrix><ChildList>
<GroupObject name="front row" uuid="G"><Matrix>{0,1,0}{-1,0,0}{0,0,1}{10000,0,0}</Matrix><ChildList>
<Fixture name="Jet" uuid="F1"><Matrix>{1.0,0,0}{0,1.0,0}{0,0,1.0}{2000.5,-1e3,0}</Matrix><GDTFSpec>Invented Works@Cold jet.gdtf</GDTFSpec><GDTFMode>Two</GDTFMode>
<Position>aa-1</Position><FixtureID>101</FixtureID><CustomIdType>8</CustomIdType><Addresses><Address break="0">513</Address></Addresses></Fixture>
<Fixture Name="Jet" UUID="F2"><FixtureID>102</FixtureID><GDTFSpec>Invented Works@Cold jet</GDTFSpec><GDTFMode>Two</GDTFMode><Addresses><Address Break="1">2.5</Address></Addresses>
<Matrix>{0,0,-1}{0,1,0}{1,0,0}{4000,-1000,0}</Matrix></Fixture>
</ChildList></GroupObject></ChildList></Layer>
<Layer name="Rig"><ChildList><Truss name="T1"><Matrix>{1,0,0}{0,1,0}{0,0,1}{-5000,250,8000}</Matrix></Truss>
<FocusPoint name="Mark A"><Matrix>{1,0,0}{0,1,0}{0,0,1}{0,0,0}</Matrix></FocusPoint></ChildList></Layer>`

func packStage(t testing.TB) []byte {
	return pack(t, map[string]string{sceneName: scene(stage), "Invented Works@Cold jet.gdtf": gdtf(t, jet), "stage.glb": "no matter"})
}

// TestDrawing follows a drawing by hand. The group turns x into y and y into -x:
// 2.0005 m along and -1 m across stand at 10 m + 1 m and at 2.0005 m; millimetres
// become metres; the layer adds its height. The second jet is tipped, so that its
// own up goes along the group's x, which is y outside (derived).
func TestDrawing(t *testing.T) {
	d, err := read(packStage(t))
	require.NoError(t, err)
	require.Len(t, d.Things, 4)
	one, two, truss, mark := d.Things[0], d.Things[1], d.Things[2], d.Things[3]
	require.Equal(t, figure.Vec{X: 11, Y: 2.0005, Z: 1.2}, one.At)
	require.Equal(t, []string{"lip", "front row"}, one.Groups)
	require.Equal(t, []string{"front row"}, two.Groups)
	require.Equal(t, "Pyro", one.Layer)
	require.Equal(t, "effect", one.Purpose)
	require.Equal(t, []timeline.Patch{{Universe: 2, Slot: 1}}, one.Starts)
	require.Equal(t, []timeline.Patch{{Universe: 2, Slot: 5}}, two.Starts)
	require.Equal(t, "Invented Works Cold jet", one.Type.Name)
	require.Same(t, one.Type, d.Things[0].Type)
	require.NotNil(t, two.Type.Device, two.Type.Why)
	require.Equal(t, []int{2}, one.Type.Device.Blocks())
	require.Empty(t, one.NoAim)
	require.InDelta(t, 1, one.Aim.Z, 1e-12)
	require.InDelta(t, 1, two.Aim.Y, 1e-12)
	require.Equal(t, figure.Vec{X: -5, Y: 0.25, Z: 8}, truss.At)
	require.Equal(t, []string{"truss", "focus point"}, []string{truss.Kind, mark.Kind})
	require.Equal(t, "the drawing names no device file", truss.NoAim)
}

// What a drawing does not say stays unknown, with a reason.
func TestUnknownStaysUnknown(t *testing.T) {
	const spec = `<GDTFSpec>j.gdtf</GDTFSpec>`
	beam := func(old, now string) string { return strings.Replace(jet, old, now, 1) }
	at := func(b string) string { return `<Matrix>` + b + `</Matrix>` }
	for _, c := range []struct {
		name, inside, device        string
		noAt, noAim, noAddr, noType string
	}{
		{name: "nothing", noAim: "the drawing names no device file"},
		{name: "no such file", inside: `<GDTFSpec>k</GDTFSpec>`, noAim: "its device file is not read", noType: `the archive has no device file "k"`},
		{name: "mode", inside: spec + `<GDTFMode>Three</GDTFMode>`, device: jet, noAim: "the mode of its device is not known", noType: `mode "Three" is none of the device's`},
		{name: "broken file", inside: spec, device: "<GDTF>", noAim: "its device file is not read", noType: `device file "j.gdtf": description.xml line 1 cannot be read`},
		{name: "no beam", inside: spec, device: strings.ReplaceAll(jet, "Beam", "Geometry"), noAim: "its device file has no beam"},
		{name: "moving", inside: spec, device: strings.NewReplacer(`<Geometry Name="Body">`, `<Axis Name="Body">`, `</Geometry>`, `</Axis>`).Replace(jet), noAim: "the device turns its beam"},
		{name: "several", inside: spec, device: beam(`</Geometry>`, `<Beam Name="n2"/></Geometry>`), noAim: "its beams point to several sides"},
		{name: "position", inside: spec, device: beam(`0.2}{0,0,0,1}`, `0.2}`), noAim: ""},
		{name: "broken position", inside: spec, device: beam(`{0,-1,0,0}`, `{0,-1`), noAim: "a position in its device file cannot be read"},
		{name: "scaled position", inside: spec, device: beam(`{0,-1,0,0}`, `{0,-2,0,0}`), noAim: "a position in its device file cannot be read"},
		{name: "aligned", inside: spec + `<Alignments><Alignment/></Alignments>`, device: jet, noAim: "the drawing turns its beam by itself"},
		{name: "scaled", inside: spec + at("{2,0,0}{0,2,0}{0,0,2}{0,0,0}"), device: jet, noAim: "its matrix does more than turn and shift"},
		{name: "mirrored", inside: spec + at("{1,0,0}{0,1,0}{0,0,-1}{0,0,0}"), device: jet, noAim: "its matrix does more than turn and shift"},
		{name: "numbers", inside: at("{1,0,0}{0,1,0}{0,0,1}{0,0}"), noAt: "its matrix must be four times three numbers", noAim: "no device file"},
		{name: "infinite", inside: at("{1,0,0}{0,1,0}{0,0,1}{0,0,Inf}"), noAt: `its matrix has "Inf" for a number`, noAim: "no device file"},
		{name: "more", inside: at("{1,0,0}{0,1,0}{0,0,1}{0,0,0}{1}"), noAt: "more than four times three numbers", noAim: "no device file"},
		{name: "on a part", inside: `<ChildPosition>Base.Head</ChildPosition>`, noAt: "it stands on a part of another device", noAim: "no device file"},
		{name: "address", inside: `<Addresses><Address break="0">1.513</Address></Addresses>`, noAddr: `"1.513" is no address`, noAim: "no device file"},
		{name: "break", inside: `<Addresses><Address break="x">1</Address></Addresses>`, noAddr: `its break "x" is no number`, noAim: "no device file"},
		{name: "same break", inside: `<Addresses><Address>1</Address><Address>2</Address></Addresses>`, noAddr: "it has two addresses for break 0", noAim: "no device file"},
		{name: "no address", inside: `<Addresses><Address break="0">0</Address></Addresses>`, noAim: "no device file"},
	} {
		t.Run(c.name, func(t *testing.T) {
			files := map[string]string{sceneName: scene(`<Layer><ChildList>` + fixture("x", c.inside) + `</ChildList></Layer>`)}
			if c.device != "" {
				files["j.gdtf"] = gdtf(t, c.device)
			}
			d, err := read(pack(t, files))
			require.NoError(t, err)
			x := d.Things[0]
			why := ""
			if x.Type != nil {
				why = x.Type.Why
			}
			for want, is := range map[string]string{"at: " + c.noAt: "at: " + x.NoAt, "aim: " + c.noAim: "aim: " + x.NoAim, "address: " + c.noAddr: "address: " + x.NoAddr, "type: " + c.noType: "type: " + why} {
				_, part, _ := strings.Cut(want, ": ")
				require.Contains(t, is, part)
				require.Equal(t, part == "", strings.HasSuffix(is, ": "), "%s, not %s", is, want)
			}
			require.Empty(t, x.Starts)
		})
	}
}

// Breaks are read in their order, not in that of the file.
func TestBreaksInOrder(t *testing.T) {
	d, err := read(pack(t, map[string]string{sceneName: scene(`<Layer><ChildList>` + fixture("x", `<Addresses><Address break="2">600</Address><Address break="1">1.7</Address></Addresses>`) + `</ChildList></Layer>`)}))
	require.NoError(t, err)
	require.Equal(t, []timeline.Patch{{Universe: 1, Slot: 7}, {Universe: 2, Slot: 88}}, d.Things[0].Starts)
}

// What stands in something without a place has none.
func TestNoPlaceIsInherited(t *testing.T) {
	d, err := read(pack(t, map[string]string{sceneName: scene(`<Layer><ChildList><GroupObject><ChildList>` + fixture("x", `<ChildList>`+fixture("y", "")+`</ChildList>`) + `</ChildList><Matrix>1</Matrix></GroupObject></ChildList></Layer>`)}))
	require.NoError(t, err)
	require.Len(t, d.Things, 2)
	for _, x := range d.Things {
		require.Contains(t, x.NoAt, "what it stands in has no place: its matrix must be")
	}
}

// What could do harm, or is no drawing, is refused with a sentence.
func TestRefused(t *testing.T) {
	deep := strings.Repeat("<a>", 100000) + strings.Repeat("</a>", 100000)
	groups := strings.Repeat("<GroupObject><ChildList>", 70) + strings.Repeat("</ChildList></GroupObject>", 70)
	link := func() []byte {
		var b bytes.Buffer
		z := zip.NewWriter(&b)
		h := &zip.FileHeader{Name: sceneName}
		h.SetMode(fs.ModeSymlink | 0o777)
		_, err := z.CreateHeader(h)
		require.NoError(t, err)
		require.NoError(t, z.Close())
		return b.Bytes()
	}
	bomb := func() []byte {
		var b bytes.Buffer
		z := zip.NewWriter(&b)
		w, err := z.Create(sceneName)
		require.NoError(t, err)
		_, err = w.Write(bytes.Repeat([]byte(" "), 40<<20))
		require.NoError(t, err)
		require.NoError(t, z.Close())
		return b.Bytes()
	}
	one := func(text string) []byte { return pack(t, map[string]string{sceneName: text}) }
	for _, c := range []struct {
		name  string
		bytes []byte
		want  string
	}{
		{"no archive", []byte("PK"), "the archive is refused: it cannot be read as a ZIP archive"},
		{"no scene", pack(t, map[string]string{"description.xml": "x"}), "this is no MVR file: its archive has no GeneralSceneDescription.xml"},
		{"out of the folder", pack(t, map[string]string{"../" + sceneName: "x"}), "is no path inside the folder"},
		{"link", link(), "is no plain file"},
		{"bomb", bomb(), "more than 200 times as many"},
		{"two scenes", pack(t, map[string]string{sceneName: "x", strings.ToUpper(sceneName): "x"}), "where capitals do not count"},
		{"no XML", one("hello"), "GeneralSceneDescription.xml line 1 cannot be read: it is no well-formed XML, or is cut off; export the drawing again"},
		{"cut off", one(scene(stage)[:900]), "cannot be read"},
		{"empty", one(""), "cannot be read"},
		{"something else", one("<html/>"), "line 1: it begins with <html>, and a drawing with <GeneralSceneDescription>"},
		{"entities", one(`<!DOCTYPE x [<!ENTITY a "aaaa"><!ENTITY b "&a;&a;">]>` + scene("")), "line 1 declares an entity of its own"},
		{"outside entity", one(`<!DOCTYPE x [<!ENTITY a SYSTEM "file:///etc/passwd">]>` + scene("")), "declares an entity of its own"},
		{"encoding", one(strings.Replace(scene(""), "UTF-8", "UTF-16", 1)), `says that it is written in "UTF-16"; save the drawing again in UTF-8, which MVR files are written in`},
		{"wide", one("\xFF\xFE<\x00"), "is written in UTF-16"},
		{"letters", one(scene("<Layer name=\"B\xFChne\"/>")), "line 4 is not UTF-8; save the drawing again in UTF-8"},
		{"deep", one(scene(deep)), "its elements lie more than 64 deep"},
		{"deep in a text", one(scene(`<Layer><Matrix>` + deep + `</Matrix></Layer>`)), "its elements lie more than 64 deep"},
		{"deep groups", one(scene(`<Layer><ChildList>` + groups + `</ChildList></Layer>`)), "its elements lie more than 64 deep"},
		{"many", one(scene(`<Layer><ChildList>` + strings.Repeat(`<Truss/>`, 50001) + `</ChildList></Layer>`)), "it holds more than 50000 objects"},
	} {
		t.Run(c.name, func(t *testing.T) {
			_, err := read(c.bytes)
			require.ErrorContains(t, err, c.want)
		})
	}
}

// Another program reads the same places out of the same files.
func TestPlacesAsAnotherReaderSeesThem(t *testing.T) {
	testtool.Need(t, "python3")
	random := testtool.Random(t, 1)
	number := func(most float64) string { return fmt.Sprintf("%.4f", (random.Float64()*2-1)*most) }
	matrix := func() string {
		a, b := random.Float64()*2*math.Pi, random.Float64()*2*math.Pi
		sa, ca, sb, cb := math.Sin(a), math.Cos(a), math.Sin(b), math.Cos(b)
		return fmt.Sprintf("<Matrix>{%g,%g,0}{%g,%g,%g}{%g,%g,%g}{%s,%s,%s}</Matrix>", ca, sa, -sa*cb, ca*cb, sb, sa*sb, -ca*sb, cb, number(20000), number(20000), number(8000))
	}
	for range 4 {
		var b strings.Builder
		for l := range 3 {
			fmt.Fprintf(&b, `<Layer name="l%d"><Matrix>{1,0,0}{0,1,0}{0,0,1}{0,0,%s}</Matrix><ChildList>`, l, number(2000))
			for g := range 3 {
				fmt.Fprintf(&b, `<GroupObject name="g">%s<ChildList><GroupObject>%s<ChildList>`, matrix(), matrix())
				for f := range 4 {
					b.WriteString(fixture(fmt.Sprintf("%d.%d.%d", l, g, f), "<GDTFSpec>j</GDTFSpec>"+matrix()))
				}
				fmt.Fprintf(&b, `</ChildList></GroupObject><Truss name="t%d.%d"/></ChildList></GroupObject>`, l, g)
			}
			b.WriteString(`</ChildList></Layer>`)
		}
		packed := pack(t, map[string]string{sceneName: scene(b.String()), "j.gdtf": gdtf(t, jet)})
		d, err := read(packed)
		require.NoError(t, err)
		path := filepath.Join(t.TempDir(), "stage.mvr")
		require.NoError(t, os.WriteFile(path, packed, 0o644))
		var theirs []struct {
			Name  string
			At, Z []float64
		}
		require.NoError(t, json.Unmarshal([]byte(testtool.Output(t, "python3", "testdata/places.py", path)), &theirs))
		require.Len(t, d.Things, len(theirs))
		for i, x := range d.Things {
			require.Equal(t, theirs[i].Name, x.Name)
			require.InDeltaSlice(t, theirs[i].At, []float64{x.At.X, x.At.Y, x.At.Z}, 1e-9)
			if x.Fixture() { // its beam goes along its own Z
				require.Empty(t, x.NoAim)
				require.InDeltaSlice(t, theirs[i].Z, []float64{x.Aim.X, x.Aim.Y, x.Aim.Z}, 1e-4)
			}
		}
	}
}

// FuzzScene reads any scene; what is read has places that are numbers, or says why
// not, and lies on a stage or is left out.
func FuzzScene(f *testing.F) {
	f.Add(scene(stage), jet)
	f.Add(scene(`<Layer><ChildList><Fixture><Matrix>{1,0,0}{0,1,0}{0,0,1}{1e9,1e9,1e9}</Matrix></Fixture></ChildList></Layer>`), "")
	f.Add("<GeneralSceneDescription/>", "<GDTF/>")
	f.Fuzz(func(t *testing.T, text, device string) {
		d, err := read(pack(t, map[string]string{sceneName: text, "Invented Works@Cold jet.gdtf": gdtf(t, device)}))
		if err != nil {
			return
		}
		for _, x := range d.Things {
			sum := x.At.X + x.At.Y + x.At.Z
			require.True(t, x.NoAt != "" || !math.IsNaN(sum) && !math.IsInf(sum, 0), "%+v", x)
			if x.NoAim == "" {
				require.InDelta(t, 1, x.Aim.X*x.Aim.X+x.Aim.Y*x.Aim.Y+x.Aim.Z*x.Aim.Z, 1e-9)
			}
		}
		s := timeline.NewShow("x", "Tour", timeline.Rate25)
		n := 0
		k := drawn.Taking{Drawing: d, Only: []string{"*"}}
		p, err := k.Plan(s, func(string) timeline.ID { n++; return timeline.ID(fmt.Sprintf("n%d", n)) })
		if err != nil {
			require.Empty(t, d.Things)
			return
		}
		_, err = s.Edit(p.Edit())
		require.NoError(t, err)
	})
}
