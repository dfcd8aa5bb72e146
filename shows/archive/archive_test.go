package archive_test

import (
	"archive/zip"
	"bytes"
	"io/fs"
	"strings"
	"testing"

	"github.com/stretchr/testify/require"

	"emberbeat/shows/archive"
)

// packed makes an archive of files with heads and contents.
func packed(t testing.TB, files ...any) []byte {
	t.Helper()
	var b bytes.Buffer
	z := zip.NewWriter(&b)
	for i := 0; i < len(files); i += 2 {
		head, ok := files[i].(*zip.FileHeader)
		if !ok {
			head = &zip.FileHeader{Name: files[i].(string), Method: zip.Deflate}
		}
		w, err := z.CreateHeader(head)
		require.NoError(t, err)
		_, err = w.Write([]byte(files[i+1].(string)))
		require.NoError(t, err)
	}
	require.NoError(t, z.Close())
	return b.Bytes()
}

// shared is an archive whose second file lies where the first one does.
func shared(t testing.TB) []byte {
	b := packed(t, &zip.FileHeader{Name: "a", Method: zip.Store}, "xy", &zip.FileHeader{Name: "b", Method: zip.Store}, "xy")
	at := bytes.LastIndex(b, []byte("PK\x01\x02")) // the second entry of the list; its place stands at 42
	copy(b[at+42:], []byte{0, 0, 0, 0})
	return b
}

func open(b []byte, limits archive.Limits) ([]*zip.File, error) {
	return archive.Open(bytes.NewReader(b), int64(len(b)), limits, func(name string) bool { return strings.HasSuffix(name, ".wav") })
}

// What could do harm is refused before anything of it is unpacked, with a sentence
// that names it.
func TestHostileArchives(t *testing.T) {
	link := &zip.FileHeader{Name: "plan.xml"}
	link.SetMode(fs.ModeSymlink | 0o777)
	device := &zip.FileHeader{Name: "plan.xml"}
	device.SetMode(fs.ModeDevice | 0o600)
	small := archive.Limits{Files: 3, Text: 2000, Total: 3000, Ratio: 200}
	for _, c := range []struct {
		name  string
		bytes []byte
		want  string
	}{
		{"no archive", []byte("PK"), "it cannot be read as a ZIP archive"},
		{"up", packed(t, "../plan.xml", "x"), `its file "../plan.xml" is no path inside the folder`},
		{"absolute", packed(t, "/etc/plan.xml", "x"), "is no path inside the folder"},
		{"other slash", packed(t, `..\plan.xml`, "x"), `holds '\\', which no file name may have everywhere`},
		{"device's name", packed(t, "NUL.xml", "x"), "which is a device on some systems"},
		{"link", packed(t, link, "/etc/passwd"), "is no plain file"},
		{"device", packed(t, device, ""), "is no plain file"},
		{"twice", packed(t, "plan.xml", "x", "PLAN.xml", "y"), `has the name of another one, "plan.xml", where capitals do not count`},
		{"too many", packed(t, "a", "", "b", "", "c", "", "d", ""), "it holds 4 files; up to 3 are taken"},
		{"too large", packed(t, "plan.xml", strings.Repeat("x", 2001)), "unpacks to 2001 bytes; up to 2000 are taken"},
		{"too large in all", packed(t, "a", strings.Repeat("x", 1900), "b", strings.Repeat("x", 1900)), "it unpacks to more than 3000 bytes"},
		{"encrypted", bytes.ReplaceAll(packed(t, &zip.FileHeader{Name: "a", Method: zip.Store}, "xy"), []byte("\x14\x00\x08\x00"), []byte("\x14\x00\x09\x00")), "is encrypted"},
		{"shared bytes", shared(t), `its file "b" shares its bytes with "a"`},
		{"bomb", packed(t, "sound.wav", strings.Repeat("x", 2<<20)), "more than 200 times as many"},
	} {
		t.Run(c.name, func(t *testing.T) {
			_, err := open(c.bytes, small)
			var hostile *archive.HostileError
			require.ErrorAs(t, err, &hostile)
			require.ErrorContains(t, err, c.want)
		})
	}
	files, err := open(packed(t, "a.wav", strings.Repeat("xy", 1400), "b", "what it holds"), small)
	require.NoError(t, err, "what is not read as a whole may be larger")
	b, err := archive.Read(files[1])
	require.NoError(t, err)
	require.Equal(t, "what it holds", string(b))
}

// A file whose bytes are not those it was packed from is refused when it is read.
func TestDamagedFile(t *testing.T) {
	b := packed(t, &zip.FileHeader{Name: "a", Method: zip.Store}, "what it holds")
	files, err := open(bytes.Replace(b, []byte("what"), []byte("WHAT"), 1), archive.Usual())
	require.NoError(t, err)
	_, err = archive.Read(files[0])
	require.ErrorContains(t, err, `its file "a" cannot be unpacked (zip: checksum error)`)
}

func TestXML(t *testing.T) {
	for _, c := range []struct{ text, want string }{
		{"\xFF\xFE<\x00a\x00", "plan.xml is written in UTF-16; write UTF-8"},
		{"<?xml version=\"1.0\"?>\n<!DOCTYPE a [<!ENTITY b \"bb\">]><a>&b;</a>", "plan.xml line 2 declares an entity of its own; such a file is refused, since entities can grow without end"},
		{`<?xml version="1.0" encoding="ISO-8859-1"?><a/>`, `plan.xml says that it is written in "ISO-8859-1"; write UTF-8`},
		{"<a>\n\xFC</a>", "plan.xml line 2 is not UTF-8; write UTF-8"},
		{"<a>\n<b></a>", "plan.xml line 2 cannot be read: it is no well-formed XML, or is cut off; save it again"},
		{"<a>&who;</a>", "plan.xml line 1 cannot be read"},
		{`<?xml version="1.0" encoding="us-ascii"?><a/>`, ""},
		{"\xEF\xBB\xBF<a/>", ""},
	} {
		x, err := archive.NewXML([]byte(c.text), "plan.xml", "write UTF-8", "save it again")
		if err == nil {
			var any struct{}
			if err = x.Decode(&any); err != nil {
				err = x.Explain(err)
			}
		}
		if c.want == "" {
			require.NoError(t, err, c.text)
			continue
		}
		require.ErrorContains(t, err, c.want)
	}
}
