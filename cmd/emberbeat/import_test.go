package main

import (
	"archive/zip"
	"bytes"
	"encoding/csv"
	"image"
	"image/color"
	"image/png"
	"os"
	"path/filepath"
	"slices"
	"testing"

	"github.com/rogpeppe/go-internal/testscript"
	"github.com/stretchr/testify/require"
)

// barGDTF is a made-up device in two modes.
const barGDTF = `<GDTF DataVersion="1.2"><FixtureType Name="Ember bar" Manufacturer="Invented"><Geometries><Geometry Name="Bar"/></Geometries>
<DMXModes><DMXMode Name="Heads" Geometry="Bar"><DMXChannels>
<DMXChannel Offset="1" Geometry="Bar"><LogicalChannel Attribute="Flame"><ChannelFunction DMXFrom="0/1"/></LogicalChannel></DMXChannel>
<DMXChannel Offset="2,3" Geometry="Bar"><LogicalChannel Attribute="Height"><ChannelFunction DMXFrom="0/2"/></LogicalChannel></DMXChannel>
<DMXChannel DMXBreak="2" Offset="1" Geometry="Bar"><LogicalChannel Attribute="Arm"><ChannelFunction DMXFrom="0/1"/></LogicalChannel></DMXChannel>
</DMXChannels></DMXMode><DMXMode Name="Plain" Geometry="Bar"><DMXChannels>
<DMXChannel Offset="1" Geometry="Bar"><LogicalChannel Attribute="Flame"/></DMXChannel></DMXChannels></DMXMode></DMXModes></FixtureType></GDTF>`

// barArchive is that device as a GDTF file.
func barArchive() []byte {
	var b bytes.Buffer
	z := zip.NewWriter(&b)
	w, err := z.Create("description.xml")
	if err == nil {
		_, err = w.Write([]byte(barGDTF))
	}
	if err != nil || z.Close() != nil {
		panic("an archive in memory cannot fail")
	}
	return b.Bytes()
}

// gdtf writes the device to a file of a script.
func gdtf(ts *testscript.TestScript, _ bool, args []string) {
	ts.Check(os.WriteFile(ts.MkAbs(args[0]), barArchive(), 0o644))
}

// sceneArchive packs a scene and the device of barArchive as an MVR file.
func sceneArchive(scene string) []byte {
	var b bytes.Buffer
	z := zip.NewWriter(&b)
	for name, data := range map[string]string{"GeneralSceneDescription.xml": scene, "bar.gdtf": string(barArchive())} {
		w, err := z.Create(name)
		if err == nil {
			_, err = w.Write([]byte(data))
		}
		if err != nil {
			panic("an archive in memory cannot fail")
		}
	}
	if z.Close() != nil {
		panic("an archive in memory cannot fail")
	}
	return b.Bytes()
}

// drawing writes a scene of a script as an MVR file.
func drawing(ts *testscript.TestScript, _ bool, args []string) {
	ts.Check(os.WriteFile(ts.MkAbs(args[0]), sceneArchive(ts.ReadFile(args[1])), 0o644))
}

// planPNG is a picture of a hall: white, with a dark block.
func planPNG() []byte {
	m := image.NewGray(image.Rect(0, 0, 80, 60))
	for i := range m.Pix {
		m.Pix[i] = 255
	}
	for x := 10; x < 70; x++ {
		m.SetGray(x, 30, color.Gray{})
	}
	var b bytes.Buffer
	if png.Encode(&b, m) != nil {
		panic("a picture in memory cannot fail")
	}
	return b.Bytes()
}

// plan writes that picture to a file of a script.
func plan(ts *testscript.TestScript, _ bool, args []string) {
	ts.Check(os.WriteFile(ts.MkAbs(args[0]), planPNG(), 0o644))
}

// printedRows reads what a cue list says of each row, without what is new with
// each cue.
func printedRows(t *testing.T, file string) (rows [][]string) {
	t.Helper()
	b, err := os.ReadFile(file)
	require.NoError(t, err)
	all, err := csv.NewReader(bytes.NewReader(b)).ReadAll()
	require.NoError(t, err)
	names := slices.IndexFunc(all, func(r []string) bool { return r[0] == "number" })
	at := func(r []string, name string) string {
		i := slices.Index(all[names], name)
		require.GreaterOrEqual(t, i, 0, name)
		return r[i]
	}
	for _, r := range all[names+1:] {
		var row []string
		for _, c := range []string{"song", "action", "timecode", "lead s", "placed effect", "outputs", "value", "article", "open s", "level %", "lane", "at", "target"} {
			row = append(row, at(r, c))
		}
		if at(r, "action") != "hit" {
			row[8] = "" // a window that others prolonged ends on its frame, and its cue to 0.1 ms
		}
		rows = append(rows, row)
	}
	slices.SortFunc(rows, slices.Compare[[]string])
	return rows
}

// A cue list that went out as CSV comes in again as it is: hits, groups, arms and
// conditions. A row that was changed to what the program does not know places
// nothing.
func TestCueListComesBack(t *testing.T) {
	inExampleFolder(t, true)
	require.Zero(t, runIn(t, "export", "tour", "cue-list", "--accept-open", "--out", "out.csv"))
	lists, err := filepath.Glob(filepath.Join("tour", "songs", "*", "cues.toml"))
	require.NoError(t, err)
	require.Len(t, lists, 4)
	for _, name := range lists {
		require.NoError(t, os.Remove(name))
	}
	list, err := os.ReadFile("out.csv")
	require.NoError(t, err)
	require.NoError(t, os.WriteFile("fire.csv", bytes.Replace(list, []byte(",hit,"), []byte(",fire,"), 1), 0o600))
	require.Equal(t, 1, runIn(t, "import", "tour", "fire.csv"))
	require.Zero(t, runIn(t, "import", "tour", "out.csv"))
	require.Zero(t, runIn(t, "export", "tour", "cue-list", "--accept-open", "--out", "back.csv"))
	want := printedRows(t, "out.csv")
	require.Greater(t, len(want), 400)
	require.Equal(t, want, printedRows(t, "back.csv"))
}
