package intake_test

import (
	"archive/zip"
	"bytes"
	"fmt"
	"strings"
	"testing"

	"github.com/stretchr/testify/require"

	"emberbeat/shows/intake"
	"emberbeat/timeline"
	"emberbeat/timeline/figure"
)

// gdtf packs a description as a GDTF file; DIN SPEC 15800 has it in a ZIP
// archive beside pictures and models.
func gdtf(t testing.TB, description string) []byte {
	var b bytes.Buffer
	z := zip.NewWriter(&b)
	for name, data := range map[string]string{"thumbnail.png": "\x89PNG", "description.xml": description} {
		w, err := z.Create(name)
		require.NoError(t, err)
		_, err = w.Write([]byte(data))
		require.NoError(t, err)
	}
	require.NoError(t, z.Close())
	return b.Bytes()
}

func readGDTF(b []byte) (*intake.GDTF, error) {
	return intake.ReadGDTF(bytes.NewReader(b), int64(len(b)))
}

// A made-up device: four flame heads that a bar carries, each the same geometry
// by reference, one slot to arm all in a second break, and a level of 16 bits.
const flameBar = `<?xml version="1.0" encoding="UTF-8"?>
<GDTF DataVersion="1.2">
 <FixtureType Name="Ember bar 4" Manufacturer="Invented Works" FixtureTypeID="0B6B2F4E-0000-4000-8000-000000000001">
  <Geometries>
   <Beam Name="Head"/>
   <Geometry Name="Bar">
    <GeometryReference Name="Head left" Geometry="Head"><Break DMXOffset="2"/></GeometryReference>
    <GeometryReference Name="Head mid left" Geometry="Head"><Break DMXOffset="5"/></GeometryReference>
    <Axis Name="Arm">
     <GeometryReference Name="Head mid right" Geometry="Head"><Break DMXOffset="8"/></GeometryReference>
     <GeometryReference Name="Head right" Geometry="Head"><Break DMXOffset="11"/></GeometryReference>
    </Axis>
   </Geometry>
  </Geometries>
  <DMXModes>
   <DMXMode Name="Heads" Geometry="Bar">
    <DMXChannels>
     <DMXChannel DMXBreak="2" Offset="1" Geometry="Bar"><LogicalChannel Attribute="SafetyArm">
      <ChannelFunction Name="Arm" Attribute="SafetyArm" DMXFrom="0/1" Default="10/1">
       <ChannelSet Name="down" DMXFrom="0/1"/><ChannelSet Name="up" DMXFrom="100/1"/><ChannelSet Name="fault" DMXFrom="201/1"/>
      </ChannelFunction></LogicalChannel></DMXChannel>
     <DMXChannel Offset="1" Geometry="Bar"><LogicalChannel Attribute="Fans"><ChannelFunction DMXFrom="0/1"/></LogicalChannel></DMXChannel>
     <DMXChannel Offset="1" Geometry="Head"><LogicalChannel Attribute="Flame"><ChannelFunction DMXFrom="0/1" Default="0/1"/></LogicalChannel></DMXChannel>
     <DMXChannel Offset="2,3" Geometry="Head"><LogicalChannel Attribute="Height"><ChannelFunction DMXFrom="0/2" Default="1/1"/></LogicalChannel></DMXChannel>
     <DMXChannel Offset="None" Geometry="Bar"><LogicalChannel Attribute="Virtual"/></DMXChannel>
    </DMXChannels>
   </DMXMode>
   <DMXMode Name="Plain" Geometry="Bar">
    <DMXChannels><DMXChannel Offset="3,1" Geometry="Bar"><LogicalChannel Attribute="All"><ChannelFunction DMXFrom="0/1"/></LogicalChannel></DMXChannel></DMXChannels>
   </DMXMode>
  </DMXModes>
 </FixtureType>
</GDTF>`

// TestGDTF follows a device by hand. Derived from the standard's rules: a
// reference's DMXOffset counts from 1, so that channel 2 of the head at offset
// 5 stands at 6; the coarse byte comes first; 1/1 in two bytes is 257.
func TestGDTF(t *testing.T) {
	g, err := readGDTF(gdtf(t, flameBar))
	require.NoError(t, err)
	require.Equal(t, "Invented Works", g.Maker)
	m, err := g.Mode("heads")
	require.NoError(t, err)
	require.Equal(t, map[int]int{1: 13, 2: 1}, m.Footprint())
	var got []string
	for _, c := range m.Channels {
		got = append(got, fmt.Sprint(c.Break, c.Addresses, " ", c.Attribute, " ", c.Geometry, " ", c.Instance, " ", c.Default))
	}
	require.Equal(t, []string{
		"1 [1] Fans Bar 0 0",
		"1 [2] Flame Head left 1 0", "1 [3 4] Height Head left 1 257",
		"1 [5] Flame Head mid left 2 0", "1 [6 7] Height Head mid left 2 257",
		"1 [8] Flame Head mid right 3 0", "1 [9 10] Height Head mid right 3 257",
		"1 [11] Flame Head right 4 0", "1 [12 13] Height Head right 4 257",
		"2 [1] SafetyArm Bar 0 10",
	}, got)
	require.Equal(t, "0..99 Arm down, 100..200 Arm up, 201..255 Arm fault", m.Channels[9].Values())
	require.Equal(t, []string{`Virtual of "Bar" has no address and is left out.`}, m.Notes)
}

func TestGDTFDeviceType(t *testing.T) {
	g, err := readGDTF(gdtf(t, flameBar))
	require.NoError(t, err)
	m, err := g.Mode("Heads")
	require.NoError(t, err)
	typ, notes, err := g.DeviceType(m, []string{"2.1 role=arm on=100..200", "1.2 role=effect", "1.5 role=effect", "1.1 role=condition on=128..255 name=fans"})
	require.NoError(t, err)
	require.Equal(t, "Invented Works Ember bar 4, Heads", typ.Name)
	require.Equal(t, []int{13, 1}, typ.Blocks())
	require.Len(t, notes, 1)
	var got []string
	for _, s := range typ.Slots {
		got = append(got, s.String())
	}
	require.Equal(t, []string{
		`1.1 role=condition on=128..255 name=fans`,
		`1.2 role=effect head=1 on=255..255 name="Flame, Head left"`,
		`1.3 role=open head=1 on=65535..65535 off=257 name="Height, Head left" wide`,
		`1.5 role=effect head=2 on=255..255 name="Flame, Head mid left"`,
		`1.6 role=open head=2 on=65535..65535 off=257 name="Height, Head mid left" wide`,
		`1.8 role=open head=3 on=255..255 name="Flame, Head mid right"`,
		`1.9 role=open head=3 on=65535..65535 off=257 name="Height, Head mid right" wide`,
		`1.11 role=open head=4 on=255..255 name="Flame, Head right"`,
		`1.12 role=open head=4 on=65535..65535 off=257 name="Height, Head right" wide`,
		`2.1 role=arm on=100..200 off=10 name="SafetyArm, Bar"`,
	}, got)

	// The device type is one that a show takes.
	typ.ID = "bar"
	show, err := timeline.NewShow("s", "x", timeline.Rate25).Edit(func(d *timeline.Draft) error { d.Put("", typ); return nil })
	require.NoError(t, err)
	require.Equal(t, 2, show.Stock.DeviceType("bar").Heads())

	plain, err := g.Mode("plain")
	require.NoError(t, err)
	typ, notes, err = g.DeviceType(plain, nil)
	require.NoError(t, err)
	require.Equal(t, "1.1 role=spare on=255..255 name=\"All, Bar, fine\"", typ.Slots[0].String())
	require.Equal(t, "1.3 role=open on=255..255 name=\"All, Bar\"", typ.Slots[1].String())
	require.Len(t, notes, 1)
}

func TestGDTFChoices(t *testing.T) {
	g, err := readGDTF(gdtf(t, flameBar))
	require.NoError(t, err)
	_, err = g.Mode("")
	require.EqualError(t, err, `the device has 2 modes; choose one of "Heads" (13 + 1 slots), "Plain" (3 slots)`)
	_, err = g.Mode("wide")
	require.ErrorContains(t, err, `mode "wide" is none of the device's: "Heads"`)
	m, err := g.Mode("Plain")
	require.NoError(t, err)
	for _, c := range []struct{ role, want string }{
		{"1.9 role=effect", "the device has no slot 1.9; it has 1.1 All, Bar, fine; 1.3 All, Bar"},
		{"1.3 role=laser", "is not one of: effect"},
		{"1.3 role=arm on=0..100", "off=0 lies inside on=0..100"},
		{"3", "must start with block.number"},
	} {
		_, _, err := g.DeviceType(m, []string{c.role})
		require.ErrorContains(t, err, c.want, c.role)
	}
}

// Overwrite takes break and offset from the last break of the reference.
func TestGDTFOverwrite(t *testing.T) {
	g, err := readGDTF(gdtf(t, `<GDTF><FixtureType Name="x"><Geometries><Beam Name="P"/><Geometry Name="B">
		<GeometryReference Name="P1" Geometry="P"><Break DMXOffset="7"/><Break DMXBreak="3" DMXOffset="4"/></GeometryReference></Geometry></Geometries>
		<DMXModes><DMXMode Name="m" Geometry="B"><DMXChannels>
		<DMXChannel DMXBreak="Overwrite" Offset="2" Geometry="P"/><DMXChannel Offset="1" Geometry="P"/></DMXChannels></DMXMode></DMXModes></FixtureType></GDTF>`))
	require.NoError(t, err)
	require.Equal(t, map[int]int{1: 7, 3: 5}, g.Modes[0].Footprint())
	_, notes, err := g.DeviceType(&g.Modes[0], nil)
	require.NoError(t, err)
	require.Equal(t, []string{"Break 3 is block 2 of the device type."}, notes)
}

// A channel of a geometry that the mode does not have is left out and told; the
// others stay.
func TestGDTFChannelOfNothing(t *testing.T) {
	g, err := readGDTF(gdtf(t, strings.Replace(flameBar, `Offset="1" Geometry="Head"`, `Offset="1" Geometry="Tail"`, 1)))
	require.NoError(t, err)
	m, err := g.Mode("Heads")
	require.NoError(t, err)
	require.Len(t, m.Channels, 6)
	require.Contains(t, m.Notes, `Flame of "Tail" is left out: that geometry does not stand in the mode's device.`)
	_, notes, err := g.DeviceType(m, nil)
	require.NoError(t, err)
	require.Contains(t, notes, `Flame of "Tail" is left out: that geometry does not stand in the mode's device.`)
}

// Nought is nought in any number of bytes. Where a range begins at a value that
// cannot be read, no range of the channel is told: the one before would seem to
// go on.
func TestGDTFValuesWithoutWidth(t *testing.T) {
	read := func(old, now string) *intake.GDTFMode {
		g, err := readGDTF(gdtf(t, strings.Replace(flameBar, old, now, 1)))
		require.NoError(t, err)
		return &g.Modes[0]
	}
	m := read(`DMXFrom="0/1" Default="10/1"`, `DMXFrom="0/255" Default="10/1"`)
	require.Equal(t, "0..99 Arm down, 100..200 Arm up, 201..255 Arm fault", m.Channels[9].Values())
	m = read(`Name="down" DMXFrom="0/1"`, `Name="down" DMXFrom="0/255"`)
	require.Equal(t, "0..99 Arm down, 100..200 Arm up, 201..255 Arm fault", m.Channels[9].Values())
	require.Len(t, m.Notes, 1) // of the channel without an address
	m = read(`Name="up" DMXFrom="100/1"`, `Name="up" DMXFrom="100/255"`)
	require.Empty(t, m.Channels[9].Values())
	require.Contains(t, m.Notes, `What the values of SafetyArm of "Bar" do is left out: "100/255" must be a value and its number of bytes, such as 128/1.`)
	require.Equal(t, 10, m.Channels[9].Default)
}

// A beam goes to the negative Z of its geometry, as its references turn it: by the
// standard's rules, half a turn about X makes down up.
func TestAimOfADevice(t *testing.T) {
	still := strings.NewReplacer(`<Axis Name="Arm">`, `<Geometry Name="Arm">`, `</Axis>`, `</Geometry>`).Replace(flameBar)
	half := `Position="{1,0,0,5}{0,-1,0,5}{0,0,-1,5}{0,0,0,1}" `
	for _, c := range []struct {
		text string
		aim  figure.Vec
		why  string
	}{
		{flameBar, figure.Vec{}, "the device turns its beam"},
		{still, figure.Vec{Z: -1}, ""},
		{strings.ReplaceAll(still, `<GeometryReference `, `<GeometryReference `+half), figure.Vec{Z: 1}, ""},
		{strings.Replace(still, `<GeometryReference `, `<GeometryReference `+half, 1), figure.Vec{}, "its beams point to several sides"},
		{strings.ReplaceAll(still, `<Geometry Name="Bar">`, `<Geometry Name="Bar" Position="{0,0,1,0}{0,1,0,0}{-1,0,0,0}{0,0,0,1}">`), figure.Vec{X: -1}, ""},
		{strings.ReplaceAll(still, `<Geometry Name="Bar">`, `<Geometry Name="Bar" Position="{0,0,2,0}{0,1,0,0}{-1,0,0,0}{0,0,0,1}">`), figure.Vec{}, "a position in its device file cannot be read"},
	} {
		g, err := readGDTF(gdtf(t, c.text))
		require.NoError(t, err)
		require.Equal(t, c.why, g.Modes[0].NoAim)
		is := g.Modes[0].Aim
		require.InDeltaSlice(t, []float64{c.aim.X, c.aim.Y, c.aim.Z}, []float64{is.X, is.Y, is.Z}, 1e-12)
	}
}

func TestBrokenGDTF(t *testing.T) {
	with := func(old, now string) string { return strings.Replace(flameBar, old, now, 1) }
	for _, c := range []struct{ name, text, want string }{
		{"no XML", "hello", "description.xml line 1 cannot be read"},
		{"cut off", flameBar[:900], "cannot be read"},
		{"something else", "<html/>", "describes no device: it begins with <html>, and a device with <GDTF>"},
		{"no device", "<GDTF/>", "describes no FixtureType with a name"},
		{"no mode", `<GDTF><FixtureType Name="x"/></GDTF>`, `the device "x" has no DMXMode`},
		{"geometry of the mode", with(`Name="Heads" Geometry="Bar"`, `Name="Heads" Geometry="Beam"`), `mode "Heads": its geometry "Beam" is none of the device's top ones`},
		{"reference to nothing", with(`Geometry="Head"><Break DMXOffset="2"/>`, `Geometry="Tail"><Break DMXOffset="2"/>`), `reference "Head left" leads to geometry "Tail"`},
		{"reference to itself", with(`Geometry="Head"><Break DMXOffset="2"/>`, `Geometry="Bar"><Break DMXOffset="2"/>`), "deep, or in itself"},
		{"offset", with(`Offset="2,3"`, `Offset="2;3"`), `its Offset "2;3" must be addresses from 1 to 512`},
		{"offset beyond", with(`Offset="2,3"`, `Offset="2,513"`), "must be addresses from 1 to 512"},
		{"pushed beyond", with(`DMXOffset="11"`, `DMXOffset="511"`), `at "Head right" it stands at address 513`},
		{"bytes", with(`Offset="2,3"`, `Offset="2,3,4,5,6"`), "has 5 bytes"},
		{"break", with(`DMXBreak="2"`, `DMXBreak="two"`), `its DMXBreak "two" must be a number from 1 to 255`},
		{"break of a reference", with(`<Break DMXOffset="2"/>`, `<Break DMXBreak="0"/>`), `reference "Head left": its DMXBreak "0"`},
		{"offset of a reference", with(`<Break DMXOffset="2"/>`, `<Break DMXOffset="0"/>`), `its DMXOffset "0" must be an address`},
		{"no break for it", with(`<Break DMXOffset="2"/>`, ``), `reference "Head left" says no DMXOffset for break 1`},
		{"overwrite without reference", with(`DMXBreak="2"`, `DMXBreak="Overwrite"`), "no reference leads to its geometry"},
		{"overlap", with(`DMXOffset="5"`, `DMXOffset="3"`), `both stand at address 3 of break 1`},
		{"value", with(`Default="10/1"`, `Default="10"`), `"10" must be a value and its number of bytes`},
		{"value too high", with(`Default="10/1"`, `Default="256/1"`), `"256/1" must be a value and its number of bytes`},
	} {
		t.Run(c.name, func(t *testing.T) {
			_, err := readGDTF(gdtf(t, c.text))
			require.ErrorContains(t, err, c.want)
		})
	}
	for _, c := range []struct{ name, text, want string }{
		{"said", with(`"UTF-8"`, `"ISO-8859-1"`), `description.xml says that it is written in "ISO-8859-1"; save the device again in UTF-8, which GDTF files are written in`},
		{"meant", with("Ember bar 4", "Gl\xFCher 4"), "description.xml line 3 is not UTF-8; save the device again in UTF-8, which GDTF files are written in"},
		{"wide", "\xFF\xFE<\x00G\x00", "description.xml is written in UTF-16; save the device again in UTF-8, which GDTF files are written in"},
		{"wide, unmarked", "\x00<\x00G", "description.xml is written in UTF-16; save the device again in UTF-8, which GDTF files are written in"},
	} {
		t.Run("encoding "+c.name, func(t *testing.T) {
			_, err := readGDTF(gdtf(t, c.text))
			require.EqualError(t, err, c.want)
		})
	}
	_, err := readGDTF(gdtf(t, with(`"UTF-8"`, `"us-ascii"`)))
	require.NoError(t, err)
	_, err = readGDTF([]byte("PK"))
	require.ErrorContains(t, err, "this is no GDTF file: the archive is refused: it cannot be read as a ZIP archive")
	var b bytes.Buffer
	z := zip.NewWriter(&b)
	_, err = z.Create("show.toml")
	require.NoError(t, err)
	require.NoError(t, z.Close())
	_, err = readGDTF(b.Bytes())
	require.ErrorContains(t, err, "its archive has no description.xml")
}

// A reference that leads on to many others may not grow without end.
func TestGDTFThatGrows(t *testing.T) {
	var b strings.Builder
	b.WriteString(`<GDTF><FixtureType Name="x"><Geometries>`)
	for i := range 12 {
		fmt.Fprintf(&b, `<Geometry Name="g%d">`, i)
		for j := range 10 {
			fmt.Fprintf(&b, `<GeometryReference Name="r%d" Geometry="g%d"/>`, j, i+1)
		}
		b.WriteString(`</Geometry>`)
	}
	b.WriteString(`<Geometry Name="g12"/></Geometries><DMXModes><DMXMode Name="m" Geometry="g0"/></DMXModes></FixtureType></GDTF>`)
	_, err := readGDTF(gdtf(t, b.String()))
	require.ErrorContains(t, err, "it has more than 32768 geometries")
}

// FuzzGDTF reads any description; what is read makes device types or says why
// not, and all slots lie in their block.
func FuzzGDTF(f *testing.F) {
	f.Add(flameBar)
	f.Add("<GDTF/>")
	f.Fuzz(func(t *testing.T, text string) {
		g, err := readGDTF(gdtf(t, text))
		if err != nil {
			return
		}
		for i := range g.Modes {
			typ, _, err := g.DeviceType(&g.Modes[i], nil)
			if err != nil {
				continue
			}
			for _, s := range typ.Slots {
				_, err := timeline.ParseSlot(s.String())
				require.NoError(t, err, s)
			}
		}
	})
}
