package intake

import (
	"archive/zip"
	"encoding/xml"
	"fmt"
	"io"
	"strings"

	"emberbeat/shows/archive"
	"emberbeat/timeline/figure"
)

// Limits of what a GDTF file may hold: far above any real device.
const (
	maxGDTFText     = 32 << 20 // bytes of its description, unpacked
	maxGDTFChannels = 512 * 64 // of one mode, with all that references repeat
	maxGDTFDepth    = 64       // of geometries in geometries
)

// gdtfText is the file in the archive that describes the device
// (DIN SPEC 15800, "file format definition").
const gdtfText = "description.xml"

// GDTF is a device described as the General Device Type Format of DIN SPEC
// 15800 says: what this program can use of it. Source of names and meanings:
// the standard's text as its authors publish it.
type GDTF struct {
	Name  string // what its maker calls the type
	Maker string
	Modes []GDTFMode
	Bytes int // of its description, unpacked
}

// GDTFMode is one mode of a device: which channels it has.
type GDTFMode struct {
	Name     string
	Channels []GDTFChannel // by break, then by address
	Notes    []string      // what was passed over, in whole sentences
	Aim      figure.Vec    // direction in which its beams go, in the device's frame; length 1
	NoAim    string        // why Aim is not known; "" = it is
}

// GDTFChannel is one channel of a mode, where it stands in the device.
type GDTFChannel struct {
	Break     int   // which of the device's start addresses it counts from, as the file numbers them
	Addresses []int // from 1, the most significant byte first; never empty
	Geometry  string
	Instance  int // which reference of the geometry, from 1; 0 = there is only one
	Attribute string
	Default   int // at the channel's resolution, or at 16 bit where it has more
	Functions []GDTFFunction
}

// GDTFFunction is a range of a channel's values and what it does.
type GDTFFunction struct {
	Name     string
	From, To int // at the channel's resolution, or at 16 bit where it has more
}

// Width is the bytes of a channel's values that a slot of ours can carry: 1 or 2.
func (c *GDTFChannel) Width() int { return min(len(c.Addresses), 2) }

// ReadGDTF reads a GDTF file. A file that is no ZIP archive, has no description,
// or one that contradicts itself (a channel without address, two channels at
// one address, a reference to no geometry) is an error that names the place.
func ReadGDTF(r io.ReaderAt, size int64) (*GDTF, error) {
	files, err := archive.Open(r, size, archive.Usual(), nil)
	if err != nil {
		return nil, fmt.Errorf("this is no GDTF file: %w", err)
	}
	for _, f := range files {
		if f.Name == gdtfText {
			return readDescription(f)
		}
	}
	return nil, fmt.Errorf("this is no GDTF file: its archive has no %s", gdtfText)
}

func readDescription(f *zip.File) (*GDTF, error) {
	if f.UncompressedSize64 > maxGDTFText {
		return nil, fmt.Errorf("%s unpacks to %d bytes; up to %d are read", gdtfText, f.UncompressedSize64, maxGDTFText)
	}
	data, err := archive.Read(f)
	if err != nil {
		return nil, err
	}
	return readGDTFText(data)
}

// The parts of the description that are read.
type (
	gdtfFile struct {
		XMLName xml.Name
		Version string `xml:"DataVersion,attr"`
		Type    struct {
			Name       string         `xml:"Name,attr"`
			Long       string         `xml:"LongName,attr"`
			Maker      string         `xml:"Manufacturer,attr"`
			Geometries gdtfGeometry   `xml:"Geometries"`
			Modes      []gdtfModeText `xml:"DMXModes>DMXMode"`
		} `xml:"FixtureType"`
	}
	// gdtfGeometry is any kind of geometry: they differ in what they look
	// like, not in what stands on them.
	gdtfGeometry struct {
		XMLName xml.Name
		Name    string         `xml:"Name,attr"`
		Refers  string         `xml:"Geometry,attr"`
		Turned  string         `xml:"Position,attr"`
		Breaks  []gdtfBreak    `xml:"Break"`
		Parts   []gdtfGeometry `xml:",any"`
	}
	gdtfBreak struct {
		Offset string `xml:"DMXOffset,attr"`
		Break  string `xml:"DMXBreak,attr"`
	}
	gdtfModeText struct {
		Name     string            `xml:"Name,attr"`
		Geometry string            `xml:"Geometry,attr"`
		Channels []gdtfChannelText `xml:"DMXChannels>DMXChannel"`
	}
	gdtfChannelText struct {
		Break    string        `xml:"DMXBreak,attr"`
		Offset   string        `xml:"Offset,attr"`
		Geometry string        `xml:"Geometry,attr"`
		Default  string        `xml:"Default,attr"` // of the channel, before version 1.1
		Logical  []gdtfLogical `xml:"LogicalChannel"`
	}
	gdtfLogical struct {
		Attribute string         `xml:"Attribute,attr"`
		Functions []gdtfFunction `xml:"ChannelFunction"`
	}
	gdtfFunction struct {
		Name      string    `xml:"Name,attr"`
		Attribute string    `xml:"Attribute,attr"`
		From      string    `xml:"DMXFrom,attr"`
		Default   string    `xml:"Default,attr"`
		Sets      []gdtfSet `xml:"ChannelSet"`
	}
	gdtfSet struct {
		Name string `xml:"Name,attr"`
		From string `xml:"DMXFrom,attr"`
	}
)

// parseGDTF reads the XML. GDTF is UTF-8: what says or shows another encoding is
// refused by that, and not by the first letter that looks wrong.
func parseGDTF(data []byte) (*gdtfFile, error) {
	d, err := archive.NewXML(data, gdtfText, "save the device again in UTF-8, which GDTF files are written in", "export the device again")
	if err != nil {
		return nil, err
	}
	var text gdtfFile
	if err := d.Decode(&text); err != nil {
		return nil, d.Explain(err)
	}
	if root := text.XMLName.Local; root != "GDTF" {
		return nil, fmt.Errorf("%s describes no device: it begins with <%s>, and a device with <GDTF>", gdtfText, root)
	}
	return &text, nil
}

func readGDTFText(data []byte) (*GDTF, error) {
	text, err := parseGDTF(data)
	if err != nil {
		return nil, err
	}
	g := &GDTF{Name: text.Type.Name, Maker: text.Type.Maker, Bytes: len(data)}
	if g.Name == "" {
		g.Name = text.Type.Long
	}
	if strings.TrimSpace(g.Name) == "" {
		return nil, fmt.Errorf("%s describes no FixtureType with a name", gdtfText)
	}
	if len(text.Type.Modes) == 0 {
		return nil, fmt.Errorf("the device %q has no DMXMode", g.Name)
	}
	for i := range text.Type.Modes {
		m, err := readMode(&text.Type.Geometries, &text.Type.Modes[i])
		if err != nil {
			return nil, fmt.Errorf("mode %q: %w", text.Type.Modes[i].Name, err)
		}
		g.Modes = append(g.Modes, *m)
	}
	return g, nil
}
