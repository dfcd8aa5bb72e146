package shows

import (
	"slices"
	"strings"

	"emberbeat/timeline"

	"github.com/pelletier/go-toml/v2/unstable"
)

// pair reads a key and its value, at the top or in an inline table.
func (p *parser) pair(e *unstable.Node) pair {
	kv := pair{at: int(e.Raw.Offset)}
	end := kv.at
	parts := 0
	for it := e.Key(); it.Next() && it.Node().Kind == unstable.Key; {
		n := it.Node()
		if parts++; parts == 1 {
			kv.key = p.string(n)
		} else {
			kv.key += "." + string(n.Data)
		}
		end = int(n.Raw.Offset + n.Raw.Length)
	}
	kv.plain = parts == 1
	kv.text = p.doc.text[kv.at:end]
	behind := p.doc.text[end : e.Raw.Offset+e.Raw.Length]
	kv.raw = strings.TrimLeft(behind[strings.IndexByte(behind, '=')+1:], " \t")
	kv.value = p.value(e.Value(), int(e.Raw.Offset+e.Raw.Length)-len(kv.raw))
	return kv
}

// listNote gives the comments of a list as they are kept: the one behind the
// opening bracket is beside it. Where there is one behind the closing bracket
// too, it goes before that.
func (kv *pair) listNote() (note timeline.KeptKey, end []string) {
	note, end = kv.note, kv.value.end
	if kv.value.open != "" {
		if note.Beside != "" {
			end = append(slices.Clip(end), note.Beside)
		}
		note.Beside = kv.value.open
	}
	return note, end
}

// string gives the text of a key or scalar, without copying it where it stands
// in the file as it is.
func (p *parser) string(n *unstable.Node) string {
	raw := p.doc.text[n.Raw.Offset : n.Raw.Offset+n.Raw.Length]
	switch {
	case raw == string(n.Data):
		return raw
	case len(raw) == len(n.Data)+2 && raw[1:len(raw)-1] == string(n.Data):
		return raw[1 : len(raw)-1]
	}
	return string(n.Data)
}

func (p *parser) value(n *unstable.Node, at int) value {
	v := value{kind: n.Kind, at: at}
	switch n.Kind {
	case unstable.Array:
		p.array(&v, n)
	case unstable.InlineTable:
		v.at = int(n.Raw.Offset)
		p.inlineTable(&v, n)
	default:
		v.at = int(n.Raw.Offset)
		v.text = p.string(n)
	}
	return v
}

func (p *parser) inlineTable(v *value, n *unstable.Node) {
	for it := n.Children(); it.Next(); {
		c := it.Node()
		if c.Kind != unstable.Comment {
			if v.pairs == nil {
				v.pairs = make([]pair, 0, 4)
			}
			kv := p.pair(c)
			v.pairs = append(v.pairs, kv)
			continue
		}
		for _, c := range p.commentRun(c) {
			v.inner = append(v.inner, p.comment(c))
		}
	}
}

// commentRun gives the comments of a run, which the TOML parser hangs on the
// first of them.
func (p *parser) commentRun(first *unstable.Node) []*unstable.Node {
	run := []*unstable.Node{first}
	for c := first.Child(); c != nil; c = c.Next() {
		run = append(run, c)
	}
	return run
}

func (p *parser) array(v *value, n *unstable.Node) {
	a := arrayReader{parser: p, v: v}
	count := 0
	for it := n.Children(); it.Next(); {
		if it.Node().Kind != unstable.Comment {
			count++
		}
	}
	v.items = make([]item, 0, count)
	for it := n.Children(); it.Next(); {
		c := it.Node()
		if c.Kind == unstable.Comment {
			for _, c := range p.commentRun(c) {
				a.comment(c)
			}
			continue
		}
		v.items = append(v.items, item{p.value(c, v.at), timeline.KeptKey{Above: a.waiting}})
		a.waiting = nil
	}
	v.end = a.waiting
}

// arrayReader sorts out which element a comment in an array belongs to.
type arrayReader struct {
	*parser
	v       *value
	waiting []string
	last    int // line of the last comment that waits
}

func (a *arrayReader) comment(n *unstable.Node) {
	at := int(n.Raw.Offset)
	line := a.doc.line(at)
	before := strings.TrimSpace(a.doc.text[a.doc.lines[line-1]:at])
	switch {
	case before == "":
		if len(a.waiting) > 0 && line > a.last+1 {
			a.waiting = append(a.waiting, "")
		}
	case len(a.v.items) == 0 && a.v.open == "":
		a.v.open = a.parser.comment(n)
		return
	case len(a.v.items) > 0 && a.v.items[len(a.v.items)-1].note.Beside == "":
		a.v.items[len(a.v.items)-1].note.Beside = a.parser.comment(n)
		return
	}
	a.waiting, a.last = append(a.waiting, a.parser.comment(n)), line
}
