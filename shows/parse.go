package shows

import (
	"bytes"
	"errors"
	"slices"
	"strings"
	"unicode/utf8"

	"emberbeat/timeline"

	"github.com/pelletier/go-toml/v2/unstable"
)

// parse takes a TOML file apart. On problems the document holds what could be
// read before them.
func parse(file string, data []byte) (*document, []Problem) {
	if bytes.HasPrefix(data, []byte("\xef\xbb\xbf")) {
		return &document{}, []Problem{{file, 1, "starts with a byte order mark", "save it as UTF-8 without one"}}
	}
	data = slices.Clip(bytes.ReplaceAll(data, []byte("\r\n"), []byte("\n")))
	p := &parser{doc: &document{text: string(data), lines: lineStarts(data)}, file: file}
	if at := badUTF8(data); at >= 0 {
		return &document{}, []Problem{{file, p.doc.line(at), "holds a byte that is no UTF-8 text", "save the file as UTF-8"}}
	}
	p.Reset(data)
	p.KeepComments = true
	p.run()
	return p.doc, p.problems
}

func lineStarts(data []byte) []int {
	starts := make([]int, 1, 2+len(data)/32)
	for i, c := range data {
		if c == '\n' {
			starts = append(starts, i+1)
		}
	}
	return starts
}

func badUTF8(data []byte) int {
	if utf8.Valid(data) {
		return -1
	}
	for i := 0; i < len(data); {
		r, n := utf8.DecodeRune(data[i:])
		if r == utf8.RuneError && n == 1 {
			return i
		}
		i += n
	}
	return -1
}

// parser turns the expressions of the TOML parser into a document.
type parser struct {
	unstable.Parser
	doc      *document
	file     string
	problems []Problem
	pending  []string // comments that wait for what comes below them
	lastLine int      // line of the last of them
}

func (p *parser) run() {
	current := &p.doc.head
	for p.NextExpression() {
		e := p.Expression()
		switch e.Kind {
		case unstable.Comment:
			p.wait(e)
		case unstable.KeyValue:
			kv := p.pair(e)
			kv.note.Above = p.above()
			kv.note.Beside = p.comment(e.Next())
			current.pairs = append(current.pairs, kv)
			current.last = p.endOfLine(int(e.Raw.Offset + e.Raw.Length))
		case unstable.Table, unstable.ArrayTable:
			p.doc.blocks = append(p.doc.blocks, p.header(e))
			current = &p.doc.blocks[len(p.doc.blocks)-1]
		}
	}
	p.doc.end = p.above()
	if err := p.Error(); err != nil {
		p.broken(err)
	}
}

// broken reports why the file is no TOML. What two versions of a file left
// behind when they were merged is named as such.
func (p *parser) broken(err error) {
	if marks := mergeMarks(p.file, p.doc.text); len(marks) > 0 {
		p.problems = append(p.problems, marks...)
		return
	}
	at := len(p.doc.text)
	var pe *unstable.ParserError
	if errors.As(err, &pe) {
		at = min(max(cap(p.Data())-cap(pe.Highlight), 0), len(p.doc.text))
	}
	line := p.doc.line(at)
	if start := p.doc.lines[line-1]; start == len(p.doc.text) && line > 1 {
		line-- // the end of the file belongs to its last line
	}
	p.problems = append(p.problems, Problem{p.file, line, "is not written as TOML: " + err.Error(), "compare with the lines around it"})
}

// mergeMarks finds the marks that version control puts around two versions of
// the same lines. A file with one outside of a text is never TOML.
func mergeMarks(file, text string) (ps []Problem) {
	n := 0
	for line := range strings.Lines(text) {
		n++
		line = strings.TrimRight(line, "\n")
		if len(line) < 7 || len(line) > 7 && line[7] != ' ' {
			continue
		}
		switch line[:7] {
		case "<<<<<<<", "|||||||", "=======", ">>>>>>>":
			ps = append(ps, Problem{file, n, "a mark of an unfinished merge, " + line[:7], "keep one of the two versions and delete the marks"})
		}
	}
	return ps
}

// wait keeps a comment for what comes below it. An empty line between two
// comments is kept as an empty comment.
func (p *parser) wait(e *unstable.Node) {
	line := p.doc.line(int(e.Raw.Offset))
	if len(p.pending) > 0 && line > p.lastLine+1 {
		p.pending = append(p.pending, "")
	}
	p.pending, p.lastLine = append(p.pending, p.comment(e)), line
}

func (p *parser) above() []string {
	lines := p.pending
	p.pending = nil
	return lines
}

func (p *parser) comment(n *unstable.Node) string {
	if n == nil || n.Kind != unstable.Comment {
		return ""
	}
	return strings.TrimRight(p.doc.text[n.Raw.Offset:n.Raw.Offset+n.Raw.Length], " \t")
}

// header reads the header of a table.
func (p *parser) header(e *unstable.Node) block {
	b := block{array: e.Kind == unstable.ArrayTable}
	end := 0
	for it := e.Key(); it.Next() && it.Node().Kind == unstable.Key; {
		n := it.Node()
		if b.path == nil {
			b.at = p.doc.lines[p.doc.line(int(n.Raw.Offset))-1]
		}
		b.path = append(b.path, string(n.Data))
		end = int(n.Raw.Offset + n.Raw.Length)
	}
	b.last = p.endOfLine(end)
	b.note.Above = p.above()
	b.note.Beside = p.comment(e.Next())
	return b
}

// endOfLine gives the offset of the end of the line that an offset is in.
func (p *parser) endOfLine(offset int) int {
	if i := strings.IndexByte(p.doc.text[offset:], '\n'); i >= 0 {
		return offset + i
	}
	return len(p.doc.text)
}

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
