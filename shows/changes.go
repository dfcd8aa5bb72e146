package shows

import (
	"encoding/json"
	"errors"
	"fmt"

	"emberbeat/timeline"
)

// changeLine is a change as it is written in a journal: records as their
// fields in canonical text, defaults left out.
type changeLine struct {
	Kind   string        `json:"kind"`
	Song   timeline.ID   `json:"song,omitempty"`
	ID     timeline.ID   `json:"id"`
	Before *recordFields `json:"before,omitempty"`
	After  *recordFields `json:"after,omitempty"`
}

// recordFields is one record.
type recordFields struct {
	Text  map[string]string   `json:"text,omitempty"`
	Items map[string][]string `json:"items,omitempty"`
	Kept  *timeline.Kept      `json:"kept,omitempty"`
}

// EncodeChanges writes changes as one line of JSON, without the line's end.
// Comments and unknown keys of the records are in it.
func EncodeChanges(cs timeline.Changes) ([]byte, error) {
	lines := make([]changeLine, len(cs))
	for i, c := range cs {
		k := timeline.KindOf(c.Ref.Kind)
		if k == nil {
			return nil, fmt.Errorf("change of %s: there is no such kind of record", c.Ref)
		}
		lines[i] = changeLine{c.Ref.Kind, c.Ref.Song, c.Ref.ID, encodeRecord(k, c.Before), encodeRecord(k, c.After)}
	}
	return json.Marshal(lines)
}

func encodeRecord(k *timeline.Kind, r timeline.Record) *recordFields {
	if r == nil {
		return nil
	}
	out := &recordFields{Kept: timeline.KeptOf(r)}
	for i := range k.Fields {
		f := &k.Fields[i]
		v := f.Get(r)
		switch {
		case v.Equal(f.Default):
		case f.Type == timeline.ListField:
			if out.Items == nil {
				out.Items = map[string][]string{}
			}
			out.Items[f.Name] = v.Items
		default:
			if out.Text == nil {
				out.Text = map[string]string{}
			}
			out.Text[f.Name] = v.Text
		}
	}
	return out
}

// DecodeChanges reads what EncodeChanges has written.
func DecodeChanges(line []byte) (timeline.Changes, error) {
	var lines []changeLine
	if err := json.Unmarshal(line, &lines); err != nil {
		return nil, fmt.Errorf("changes cannot be read: %w", err)
	}
	cs := make(timeline.Changes, len(lines))
	for i, l := range lines {
		k := timeline.KindOf(l.Kind)
		if k == nil {
			return nil, fmt.Errorf("change %d: there is no kind of record %q", i+1, l.Kind)
		}
		before, err1 := decodeRecord(k, l.ID, l.Before)
		after, err2 := decodeRecord(k, l.ID, l.After)
		if err := errors.Join(err1, err2); err != nil {
			return nil, fmt.Errorf("change %d, %s %s: %w", i+1, l.Kind, l.ID, err)
		}
		if before == nil && after == nil {
			return nil, fmt.Errorf("change %d, %s %s: changes nothing", i+1, l.Kind, l.ID)
		}
		cs[i] = timeline.Change{Ref: timeline.Ref{Kind: l.Kind, Song: l.Song, ID: l.ID}, Before: before, After: after}
	}
	return cs, nil
}

func decodeRecord(k *timeline.Kind, id timeline.ID, in *recordFields) (timeline.Record, error) {
	if in == nil {
		return nil, nil
	}
	r := k.New(id)
	for name, text := range in.Text {
		if err := setField(k, r, name, timeline.Value{Text: text}); err != nil {
			return nil, err
		}
	}
	for name, items := range in.Items {
		if err := setField(k, r, name, timeline.Value{Items: items}); err != nil {
			return nil, err
		}
	}
	timeline.SetKept(r, in.Kept)
	return r, nil
}

func setField(k *timeline.Kind, r timeline.Record, name string, v timeline.Value) error {
	if k.Name == "show" && name == "set" {
		name = "main-set" // in a journal of an older program
	}
	f := k.Field(name)
	if f == nil {
		return fmt.Errorf("there is no field %q", name)
	}
	return f.Set(r, v)
}
