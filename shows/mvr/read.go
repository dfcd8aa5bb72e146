package mvr

import (
	"archive/zip"
	"bytes"
	"cmp"
	"fmt"
	"io"
	"math"
	"slices"
	"strconv"
	"strings"

	"emberbeat/audio"
	"emberbeat/shows/archive"
	"emberbeat/shows/intake"
	"emberbeat/timeline"
	"emberbeat/timeline/drawn"
	"emberbeat/timeline/figure"
)

// ReadFile reads a drawing. An error names the file.
func ReadFile(path string) (*drawn.Drawing, error) {
	f, err := audio.OpenFile(path)
	if err != nil {
		return nil, err
	}
	defer f.Close()
	info, err := f.Stat()
	if err != nil {
		return nil, err
	}
	d, err := Read(f, info.Size())
	if err != nil {
		return nil, fmt.Errorf("%s: %w", path, err)
	}
	return d, nil
}

// Read reads a drawing from a file of size bytes. Places are in metres, in the frame
// of the drawing. An archive that could do harm, one without a scene, and a scene
// that cannot be read are an error; a device whose file cannot be read is told where
// it stands.
func Read(r io.ReaderAt, size int64) (*drawn.Drawing, error) {
	files, err := archive.Open(r, size, archive.Usual(), notRead)
	if err != nil {
		return nil, err
	}
	at := slices.IndexFunc(files, func(f *zip.File) bool { return f.Name == intake.SceneText })
	if at < 0 {
		return nil, fmt.Errorf("this is no MVR file: its archive has no %s", intake.SceneText)
	}
	data, err := archive.Read(files[at])
	if err != nil {
		return nil, err
	}
	s, err := readScene(data)
	if err != nil {
		return nil, err
	}
	b := &builder{files: files, devices: map[string]*device{}, types: map[string]*drawnType{}}
	d := &drawn.Drawing{}
	for i := range s.objects {
		d.Things = append(d.Things, b.thing(s, &s.objects[i]))
	}
	return d, nil
}

// notRead tells which files of an archive are never unpacked.
func notRead(name string) bool {
	name = strings.ToLower(name)
	return !strings.HasSuffix(name, ".xml") && !strings.HasSuffix(name, ".gdtf")
}

// Most of what is unpacked of device files in all: judgements, no source.
const (
	maxDevices     = 500
	maxDeviceBytes = 128 << 20 // of descriptions
)

// builder makes things of objects, and reads each device file once.
type builder struct {
	files   []*zip.File
	bytes   int
	devices map[string]*device // by the name that objects give
	types   map[string]*drawnType
}

type device struct {
	gdtf *intake.GDTF
	why  string
}

// drawnType is a type in one mode, and where its beam goes.
type drawnType struct {
	drawn.Type
	aim   figure.Vec
	noAim string
}

func (b *builder) thing(s *scene, o *object) drawn.Thing {
	t := drawn.Thing{Name: o.name, Number: o.number, Kind: o.kind, Layer: o.layer, Groups: o.groups, Purpose: purposes[o.purpose]}
	t.At, t.NoAt = o.place()
	if name := s.hangs[strings.ToLower(o.hangs)]; o.hangs != "" && name != "" {
		t.Groups = append([]string{name}, o.groups...)
	}
	t.NoAim = "the drawing names no device file"
	if o.spec != "" {
		typ := b.typeOf(o.spec, o.mode)
		t.Type = &typ.Type
		t.Aim, t.NoAim = o.aim(typ)
	}
	t.Starts, t.NoAddr = o.starts()
	return t
}

// aim gives where the beam of an object goes.
func (o *object) aim(typ *drawnType) (figure.Vec, string) {
	switch {
	case o.aligned:
		return figure.Vec{}, "the drawing turns its beam by itself"
	case typ.noAim != "":
		return figure.Vec{}, typ.noAim
	case !o.at.straight():
		return figure.Vec{}, "its matrix does more than turn and shift"
	}
	d := o.at.turned(typ.aim)
	long := math.Sqrt(d.X*d.X + d.Y*d.Y + d.Z*d.Z)
	return figure.Vec{X: d.X / long, Y: d.Y / long, Z: d.Z / long}, ""
}

// starts gives the start addresses of an object in the order of its breaks. An
// address of 0 is none.
func (o *object) starts() ([]timeline.Patch, string) {
	type at struct {
		brk  int
		from timeline.Patch
	}
	var list []at
	for _, a := range o.addresses {
		brk, err := strconv.Atoi(cmp.Or(a.brk, "0"))
		if err != nil {
			return nil, fmt.Sprintf("its break %q is no number", shortened(a.brk))
		}
		if n, err := strconv.Atoi(a.text); a.text == "" || err == nil && n == 0 {
			continue
		}
		p, err := timeline.ParsePatch(a.text)
		if err != nil {
			return nil, fmt.Sprintf("%q is no address", shortened(a.text))
		}
		if slices.ContainsFunc(list, func(x at) bool { return x.brk == brk }) {
			return nil, fmt.Sprintf("it has two addresses for break %d", brk)
		}
		list = append(list, at{brk, p})
	}
	slices.SortStableFunc(list, func(a, b at) int { return a.brk - b.brk })
	var starts []timeline.Patch
	for _, x := range list {
		starts = append(starts, x.from)
	}
	return starts, ""
}

// typeOf gives the type of a device file in a mode.
func (b *builder) typeOf(spec, mode string) *drawnType {
	key := spec + "\x00" + mode
	if t := b.types[key]; t != nil {
		return t
	}
	plain := strings.TrimSuffix(spec, ".gdtf")
	t := &drawnType{Type: drawn.Type{Name: timeline.CleanText(plain)}, noAim: "its device file is not read"}
	b.types[key] = t
	v := b.device(spec)
	if v.gdtf == nil {
		t.Why = v.why
		return t
	}
	t.Name = timeline.CleanText(strings.TrimSpace(v.gdtf.Maker + " " + v.gdtf.Name))
	t.Also = []string{plain, spec, v.gdtf.Name}
	m, err := v.gdtf.Mode(mode)
	if err != nil {
		t.Why, t.noAim = err.Error(), "the mode of its device is not known"
		return t
	}
	t.aim, t.noAim = m.Aim, m.NoAim
	if t.Device, t.Notes, err = v.gdtf.DeviceType(m, nil); err != nil {
		t.Device, t.Why = nil, err.Error()
	}
	return t
}

// device reads a device file of the archive. Objects may name it without its ending.
func (b *builder) device(spec string) *device {
	if v := b.devices[spec]; v != nil {
		return v
	}
	v := &device{}
	b.devices[spec] = v
	f := b.find(spec)
	switch {
	case f == nil:
		v.why = fmt.Sprintf("the archive has no device file %q", shortened(spec))
	case len(b.devices) > maxDevices || b.bytes > maxDeviceBytes:
		v.why = "the drawing has more device files than are read"
	default:
		data, err := archive.Read(f)
		if err == nil {
			v.gdtf, err = intake.ReadGDTF(bytes.NewReader(data), int64(len(data)))
		}
		if v.gdtf != nil {
			b.bytes += v.gdtf.Bytes
		}
		if err != nil {
			v.why = fmt.Sprintf("device file %q: %v", f.Name, err)
		}
	}
	return v
}

func (b *builder) find(spec string) *zip.File {
	for _, name := range []string{spec, spec + ".gdtf"} {
		for _, f := range b.files {
			if strings.EqualFold(f.Name, name) && strings.HasSuffix(strings.ToLower(f.Name), ".gdtf") {
				return f
			}
		}
	}
	return nil
}
