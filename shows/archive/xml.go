package archive

import (
	"bytes"
	"encoding/xml"
	"errors"
	"fmt"
	"io"
	"strings"
	"unicode/utf8"
)

// XML reads an XML text that must be UTF-8, and says in a sentence what is wrong
// with it.
type XML struct {
	*xml.Decoder
	data  []byte
	name  string // of the file
	utf8  string // what to do about another encoding
	again string // what to do about a text that is broken
	other string // the encoding that it says it has, where that is not UTF-8
}

// NewXML begins to read a text. A text that shows another encoding, or has entities
// of its own, which can grow without end, is an error. utf8 tells what is to be done
// about another encoding, again about a text that is broken.
func NewXML(data []byte, name, utf8, again string) (*XML, error) {
	for _, start := range []string{"\xFE\xFF", "\xFF\xFE", "<\x00", "\x00<"} {
		if bytes.HasPrefix(data, []byte(start)) {
			return nil, fmt.Errorf("%s is written in UTF-16; %s", name, utf8)
		}
	}
	if at := bytes.Index(data, []byte("<!ENTITY")); at >= 0 {
		return nil, fmt.Errorf("%s line %d declares an entity of its own; such a file is refused, since entities can grow without end", name, 1+bytes.Count(data[:at], []byte("\n")))
	}
	x := &XML{Decoder: xml.NewDecoder(bytes.NewReader(data)), data: data, name: name, utf8: utf8, again: again}
	x.CharsetReader = func(name string, r io.Reader) (io.Reader, error) {
		if strings.EqualFold(name, "us-ascii") {
			return r, nil // the first half of UTF-8
		}
		x.other = name
		return nil, errors.New(name)
	}
	return x, nil
}

// Explain says what an error of the decoder means for the file.
func (x *XML) Explain(error) error {
	line, _ := x.InputPos()
	switch broken := brokenLine(x.data); {
	case x.other != "":
		return fmt.Errorf("%s says that it is written in %q; %s", x.name, x.other, x.utf8)
	case broken > 0:
		return fmt.Errorf("%s line %d is not UTF-8; %s", x.name, broken, x.utf8)
	}
	return fmt.Errorf("%s line %d cannot be read: it is no well-formed XML, or is cut off; %s", x.name, line, x.again)
}

// brokenLine is the first line that is not UTF-8, from 1; 0 = none.
func brokenLine(data []byte) int {
	for i, line := range bytes.Split(data, []byte("\n")) {
		if !utf8.Valid(line) {
			return i + 1
		}
	}
	return 0
}
