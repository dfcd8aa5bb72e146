package mvr

import (
	"encoding/xml"
	"fmt"
	"math"
	"strings"

	"emberbeat/shows/archive"
	"emberbeat/shows/intake"
	"emberbeat/timeline/figure"
)

// Limits of what a scene may hold: far above any real one. Judgements, no source.
const (
	maxObjects = 50000
	maxDepth   = 64   // of elements in elements
	maxWords   = 1000 // bytes of a name
)

// object is one object of a scene as it is written.
type object struct {
	kind, uuid, name, layer string
	groups                  []string // outermost first
	at                      matrix   // in the frame of the scene, once that is read
	noAt                    string
	spec, mode              string
	number, purpose         string
	hangs                   string // uuid of the logical position that it belongs to
	aligned                 bool   // the drawing turns its beam by itself
	addresses               []address
}

type address struct{ brk, text string }

// kinds are the objects of a scene, by their element, and what they are called.
// "Support" is from memory.
var kinds = map[string]string{
	"Fixture": "fixture", "Truss": "truss", "SceneObject": "object", "VideoScreen": "screen",
	"Projector": "projector", "Support": "support", "FocusPoint": "focus point",
}

// purposes are types of custom ids that say that something is a special effect
// (DIN SPEC 15801, "CustomID types").
var purposes = map[string]string{"7": "fog", "8": "effect", "9": "pyro"}

// scene reads the root file.
type scene struct {
	xml     *archive.XML
	depth   int
	objects []object
	hangs   map[string]string // names of logical positions, by uuid
}

// fault is what a scene cannot be read for, in a sentence.
type fault struct{ why string }

func (f *fault) Error() string { return f.why }

func readScene(data []byte) (*scene, error) {
	x, err := archive.NewXML(data, intake.SceneText, "save the drawing again in UTF-8, which MVR files are written in", "export the drawing again")
	if err != nil {
		return nil, err
	}
	s := &scene{xml: x, hangs: map[string]string{}}
	root, err := s.root()
	if err == nil && root.Name.Local != "GeneralSceneDescription" {
		err = &fault{fmt.Sprintf("it begins with <%s>, and a drawing with <GeneralSceneDescription>", shortened(root.Name.Local))}
	}
	if err == nil {
		err = s.each(func(e xml.StartElement) error {
			if e.Name.Local != "Scene" {
				return s.skip()
			}
			return s.each(s.part)
		})
	}
	if f, ok := err.(*fault); ok {
		line, _ := x.InputPos()
		return nil, fmt.Errorf("%s line %d: %s", intake.SceneText, line, f.why)
	}
	if err != nil {
		return nil, x.Explain(err)
	}
	return s, nil
}

// root gives the outermost element.
func (s *scene) root() (xml.StartElement, error) {
	for {
		t, err := s.xml.Token()
		if err != nil {
			return xml.StartElement{}, err
		}
		if e, ok := t.(xml.StartElement); ok {
			return e, nil
		}
	}
}

// each gives the elements in the one that was begun to do, which has to read each to
// its end, and reads to the end of the one that was begun.
func (s *scene) each(do func(xml.StartElement) error) error {
	if s.depth++; s.depth > maxDepth {
		return &fault{fmt.Sprintf("its elements lie more than %d deep", maxDepth)}
	}
	for {
		t, err := s.xml.Token()
		if err != nil {
			return err
		}
		switch e := t.(type) {
		case xml.StartElement:
			if err := do(e); err != nil {
				return err
			}
		case xml.EndElement:
			s.depth--
			return nil
		}
	}
}

// skip reads to the end of the element that was begun.
func (s *scene) skip() error {
	return s.each(func(xml.StartElement) error { return s.skip() })
}

// text gives the text of the element that was begun, without spaces at its ends;
// what is too long is cut.
func (s *scene) text() (string, error) {
	var b strings.Builder
	for depth := 0; ; {
		t, err := s.xml.Token()
		if err != nil {
			return "", err
		}
		switch e := t.(type) {
		case xml.CharData:
			b.Write(e[:min(len(e), maxWords-b.Len())])
		case xml.StartElement:
			if depth++; s.depth+depth > maxDepth {
				return "", &fault{fmt.Sprintf("its elements lie more than %d deep", maxDepth)}
			}
		case xml.EndElement:
			if depth--; depth < 0 {
				return strings.TrimSpace(strings.ToValidUTF8(b.String(), "")), nil
			}
		}
	}
}

// attr gives an attribute of an element. Its name counts without regard to case:
// editions of the standard differ in it.
func attr(e xml.StartElement, name string) string {
	for _, a := range e.Attr {
		if strings.EqualFold(a.Name.Local, name) {
			return strings.TrimSpace(strings.ToValidUTF8(a.Value[:min(len(a.Value), maxWords)], ""))
		}
	}
	return ""
}

// part reads a part of the scene.
func (s *scene) part(e xml.StartElement) error {
	switch e.Name.Local {
	case "AUXData":
		return s.each(func(e xml.StartElement) error {
			if e.Name.Local == "Position" {
				s.hangs[strings.ToLower(attr(e, "uuid"))] = attr(e, "name")
			}
			return s.skip()
		})
	case "Layers":
		return s.each(func(e xml.StartElement) error {
			if e.Name.Local != "Layer" {
				return s.skip()
			}
			return s.holder(attr(e, "name"), nil)
		})
	}
	return s.skip()
}

// holder reads what holds others: a layer, or a group in one.
func (s *scene) holder(layer string, groups []string) error {
	first, at, noAt := len(s.objects), identity(), ""
	err := s.each(func(e xml.StartElement) error {
		switch e.Name.Local {
		case "Matrix":
			return s.matrix(&at, &noAt)
		case "ChildList":
			return s.each(func(e xml.StartElement) error { return s.child(e, layer, groups) })
		}
		return s.skip()
	})
	s.put(first, at, noAt)
	return err
}

// put brings the objects from one on into the frame of what holds them. Its matrix
// may stand before or after them.
func (s *scene) put(first int, at matrix, noAt string) {
	for i := first; i < len(s.objects); i++ {
		o := &s.objects[i]
		if noAt != "" && o.noAt == "" {
			o.noAt = "what it stands in has no place: " + noAt
		}
		o.at = o.at.in(at)
	}
}

func (s *scene) matrix(to *matrix, why *string) error {
	text, err := s.text()
	if err != nil {
		return err
	}
	m, err := parseMatrix(text)
	if err != nil {
		*why = err.Error()
		return nil
	}
	*to = m
	return nil
}

// child reads an object in a list of them.
func (s *scene) child(e xml.StartElement, layer string, groups []string) error {
	if e.Name.Local == "GroupObject" {
		return s.holder(layer, append(groups[:len(groups):len(groups)], attr(e, "name")))
	}
	kind := kinds[e.Name.Local]
	if kind == "" {
		return s.skip()
	}
	if len(s.objects) >= maxObjects {
		return &fault{fmt.Sprintf("it holds more than %d objects", maxObjects)}
	}
	at := len(s.objects)
	s.objects = append(s.objects, object{kind: kind, uuid: attr(e, "uuid"), name: attr(e, "name"), layer: layer, groups: groups, at: identity()})
	own, noAt := identity(), ""
	err := s.each(func(e xml.StartElement) error {
		switch e.Name.Local {
		case "Matrix":
			return s.matrix(&own, &noAt)
		case "ChildList":
			return s.each(func(e xml.StartElement) error { return s.child(e, layer, groups) })
		case "Addresses":
			return s.each(func(e xml.StartElement) error {
				if e.Name.Local != "Address" {
					return s.skip()
				}
				text, err := s.text()
				if o := &s.objects[at]; len(o.addresses) <= 64 {
					o.addresses = append(o.addresses, address{attr(e, "break"), text})
				}
				return err
			})
		case "Alignments":
			s.objects[at].aligned = true
			return s.skip()
		}
		return s.word(e, &s.objects[at])
	})
	if noAt != "" && s.objects[at].noAt == "" {
		s.objects[at].noAt = noAt
	}
	s.put(at, own, noAt)
	return err
}

// word reads what an object says in a text.
func (s *scene) word(e xml.StartElement, o *object) error {
	var to *string
	switch e.Name.Local {
	case "GDTFSpec":
		to = &o.spec
	case "GDTFMode":
		to = &o.mode
	case "FixtureID":
		to = &o.number
	case "Position":
		to = &o.hangs
	case "CustomIdType":
		to = &o.purpose
	case "ChildPosition":
		text, err := s.text()
		if text != "" {
			o.noAt = "it stands on a part of another device, and where that is depends on the device"
		}
		return err
	default:
		return s.skip()
	}
	text, err := s.text()
	*to = text
	return err
}

// place gives where an object is, in metres, or why that is not known.
func (o *object) place() (figure.Vec, string) {
	p := figure.Vec{X: o.at.o.X / 1000, Y: o.at.o.Y / 1000, Z: o.at.o.Z / 1000}
	if o.noAt == "" && !(math.Abs(p.X) < most && math.Abs(p.Y) < most && math.Abs(p.Z) < most) {
		return figure.Vec{}, "its matrices lead nowhere"
	}
	return p, o.noAt
}
