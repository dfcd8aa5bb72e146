package shows

import (
	"bytes"
	"errors"
	"slices"
	"strings"
	"unicode/utf8"

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
