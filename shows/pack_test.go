package shows_test

import (
	"archive/zip"
	"bytes"
	"context"
	"hash/crc32"
	"io/fs"
	"os"
	"os/exec"
	"path/filepath"
	"slices"
	"strings"
	"testing"

	"emberbeat/shows"

	"emberbeat/timeline/testtool"
	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"
)

// withSound is a copy of a stored show in which a song has a recording.
func withSound(t testing.TB) string {
	dir := copyOf(t, "tidy")
	song := filepath.Join(dir, "songs/ember/song.toml")
	b, err := os.ReadFile(song)
	require.NoError(t, err)
	require.Contains(t, string(b), `audio = "`)
	name := strings.SplitN(strings.SplitN(string(b), `audio = "`, 2)[1], `"`, 2)[0]
	require.NoError(t, os.MkdirAll(filepath.Join(dir, filepath.Dir(name)), 0o755))
	require.NoError(t, os.WriteFile(filepath.Join(dir, name), bytes.Repeat([]byte("sound "), 5000), 0o644))
	require.NoError(t, os.WriteFile(filepath.Join(dir, "README.md"), []byte("notes\n"), 0o644))
	return dir
}

func pack(t testing.TB, dir string, o shows.PackOptions) ([]byte, *shows.Packed) {
	var b bytes.Buffer
	p, err := shows.Pack(context.Background(), dir, &b, o)
	require.NoError(t, err)
	return b.Bytes(), p
}

func unpack(archive []byte, dir string) (*shows.Unpacked, error) {
	return shows.Unpack(context.Background(), bytes.NewReader(archive), int64(len(archive)), dir, shows.UsualLimits())
}

// What was packed comes out again byte for byte, and packs to the same bytes.
func TestPackAndUnpack(t *testing.T) {
	dir := withSound(t)
	require.NoError(t, os.WriteFile(filepath.Join(dir, ".journal"), []byte("not the show"), 0o644))
	archive, p := pack(t, dir, shows.PackOptions{})
	require.Empty(t, p.Missing)
	require.NoError(t, os.Remove(filepath.Join(dir, ".journal")))

	to := filepath.Join(t.TempDir(), "a", "b")
	u, err := unpack(archive, to)
	require.NoError(t, err)
	require.Equal(t, filesIn(t, dir), filesIn(t, to))
	require.Equal(t, p.Files, u.Files)
	require.Empty(t, u.Skipped)
	again, _ := pack(t, to, shows.PackOptions{})
	require.Equal(t, archive, again)

	_, err = unpack(archive, to)
	var taken *shows.NotEmptyError
	require.ErrorAs(t, err, &taken)
}

func TestPackWithoutAudio(t *testing.T) {
	dir := withSound(t)
	_, all := pack(t, dir, shows.PackOptions{})
	_, p := pack(t, dir, shows.PackOptions{WithoutAudio: true})
	require.Len(t, p.Files, len(all.Files)-1)
	require.Less(t, p.Bytes, all.Bytes)

	sound := slices.DeleteFunc(slices.Clone(all.Files), func(n string) bool { return slices.Contains(p.Files, n) })
	require.NoError(t, os.Remove(filepath.Join(dir, sound[0])))
	_, p = pack(t, dir, shows.PackOptions{})
	require.Equal(t, sound, p.Missing)
}

// Python's zipfile finds nothing wrong with an archive and reads the same bytes.
func TestPackedAsPythonReadsIt(t *testing.T) {
	testtool.Need(t, "python3")
	dir := withSound(t)
	archive, p := pack(t, dir, shows.PackOptions{})
	name := filepath.Join(t.TempDir(), "show.zip")
	require.NoError(t, os.WriteFile(name, archive, 0o644))
	out, err := exec.Command("python3", "-c", `
import sys, zipfile, zlib
z = zipfile.ZipFile(sys.argv[1])
assert z.testzip() is None
for i in z.infolist():
    print(i.filename, zlib.crc32(z.read(i)), i.date_time[:3])`, name).CombinedOutput()
	require.NoError(t, err, string(out))
	lines := strings.Split(strings.TrimSpace(string(out)), "\n")
	require.Len(t, lines, len(p.Files))
	files := filesIn(t, dir)
	for i, n := range p.Files {
		require.Equal(t, strings.Fields(lines[i])[0], n)
		require.Contains(t, lines[i], " "+text(crc32.ChecksumIEEE([]byte(files[n])))+" ")
		require.Contains(t, lines[i], "(1980, 1, 1)")
	}
}

func text(n uint32) string {
	b := []byte{}
	for ; n > 0 || len(b) == 0; n /= 10 {
		b = append(b, byte('0'+n%10))
	}
	slices.Reverse(b)
	return string(b)
}

// made is a ZIP archive with the files of a good show and those that spoil it.
func made(t testing.TB, spoil func(*zip.Writer)) []byte {
	var b bytes.Buffer
	z := zip.NewWriter(&b)
	for name, data := range filesIn(t, filepath.Join("testdata", "tidy")) {
		w, err := z.Create(name)
		require.NoError(t, err)
		_, err = w.Write([]byte(data))
		require.NoError(t, err)
	}
	if spoil != nil {
		spoil(z)
	}
	require.NoError(t, z.Close())
	return b.Bytes()
}

func file(name string, data string) func(*zip.Writer) {
	return header(&zip.FileHeader{Name: name, Method: zip.Deflate}, data)
}

func header(h *zip.FileHeader, data string) func(*zip.Writer) {
	return func(z *zip.Writer) {
		w, err := z.CreateHeader(h)
		if err == nil {
			_, err = w.Write([]byte(data))
		}
		if err != nil {
			panic(err)
		}
	}
}

// raw writes a file whose head says what it likes.
func raw(h *zip.FileHeader, data string) func(*zip.Writer) {
	return func(z *zip.Writer) {
		h.CRC32 = crc32.ChecksumIEEE([]byte(data))
		w, err := z.CreateRaw(h)
		if err == nil {
			_, err = w.Write([]byte(data))
		}
		if err != nil {
			panic(err)
		}
	}
}

func mode(name string, m fs.FileMode) *zip.FileHeader {
	h := &zip.FileHeader{Name: name}
	h.SetMode(m)
	return h
}

// An archive that would do what a show has no need of is refused as a whole.
func TestHostileArchives(t *testing.T) {
	zeros := strings.Repeat("\x00", 8<<20)
	for _, c := range []struct {
		name  string
		spoil func(*zip.Writer)
		why   string
	}{
		{"above", file("../outside.toml", "x"), `"../outside.toml" is no path inside the folder`},
		{"above in the middle", file("songs/../../outside.toml", "x"), "is no path inside the folder"},
		{"absolute", file("/etc/outside.toml", "x"), "is no path inside the folder"},
		{"backslash", file(`songs\..\..\outside.toml`, "x"), `holds '\\'`},
		{"drive", file("c:outside.toml", "x"), "holds ':'"},
		{"empty part", file("songs//x.toml", "x"), "is no path inside the folder"},
		{"new line", file("a\nb.toml", "x"), `holds '\n'`},
		{"no UTF-8", file("a\xff.toml", "x"), "is no path inside the folder"},
		{"device", file("audio/NUL.wav", "x"), "is a device on some systems"},
		{"dot at the end", file("audio/a.wav.", "x"), "ends a name in a dot or a space"},
		{"long", file("audio/"+strings.Repeat("a", 300)+".wav", "x"), "up to 240 fit everywhere"},
		{"link", header(mode("audio/a.wav", fs.ModeSymlink|0o777), "/etc/passwd"), "is no plain file"},
		{"pipe", header(mode("audio/a.wav", fs.ModeNamedPipe|0o644), ""), "is no plain file"},
		{"twice", file("show.toml", "x"), `has the name of another one, "show.toml"`},
		{"twice but for capitals", file("Show.TOML", "x"), `has the name of another one`},
		{"folder and file", file("songs/ember/cues.toml/", ""), "has the name of another one"},
		{"encrypted", raw(&zip.FileHeader{Name: "audio/a.wav", Flags: 1, CompressedSize64: 1, UncompressedSize64: 1}, "x"), "is encrypted"},
		{"another method", raw(&zip.FileHeader{Name: "audio/a.wav", Method: 12, CompressedSize64: 1, UncompressedSize64: 1}, "x"), "is packed by method 12"},
		{"two sizes", raw(&zip.FileHeader{Name: "audio/a.wav", CompressedSize64: 1, UncompressedSize64: 2}, "x"), "gives two sizes"},
		{"claims a lot", raw(&zip.FileHeader{Name: "audio/a.wav", Method: zip.Deflate, CompressedSize64: 1, UncompressedSize64: 1 << 40}, "x"), "more than 200 times"},
		{"bomb", file("audio/a.wav", zeros), "more than 200 times"},
		{"more than it says", raw(&zip.FileHeader{Name: "audio/a.wav", Method: zip.Deflate, CompressedSize64: 9, UncompressedSize64: 3}, "\x4a\x44\x02\x00\x00\x00\xff\xff\x00"), "cannot be unpacked"},
		{"many files", func(z *zip.Writer) {
			for i := range 20000 {
				file("audio/"+text(uint32(i))+".wav", "")(z)
			}
		}, "up to 20000 are taken"},
	} {
		t.Run(c.name, func(t *testing.T) {
			parent := t.TempDir()
			_, err := unpack(made(t, c.spoil), filepath.Join(parent, "show"))
			var hostile *shows.HostileError
			require.ErrorAs(t, err, &hostile)
			require.ErrorContains(t, err, c.why)
			left, err := os.ReadDir(parent)
			require.NoError(t, err)
			require.Empty(t, left, "nothing is left behind")
		})
	}
}

// Two entries over the same bytes, the way a small archive holds very much.
func TestArchiveWhoseFilesShareBytes(t *testing.T) {
	archive := made(t, func(z *zip.Writer) {
		file("audio/one.wav", "one")(z)
		file("audio/two.wav", "two")(z)
	})
	one := bytes.LastIndex(archive, []byte("audio/one.wav"))
	two := bytes.LastIndex(archive, []byte("audio/two.wav"))
	copy(archive[two-4:two], archive[one-4:one]) // the offset stands before the name (APPNOTE 4.3.12)
	_, err := unpack(archive, filepath.Join(t.TempDir(), "show"))
	require.ErrorContains(t, err, "shares its bytes with")
}

// A show in one folder of the archive unpacks; what is no show's is left out.
func TestArchiveMadeByHand(t *testing.T) {
	var b bytes.Buffer
	z := zip.NewWriter(&b)
	_, err := z.Create("tour/")
	require.NoError(t, err)
	for name, data := range filesIn(t, filepath.Join("testdata", "tidy")) {
		file("tour/"+name, data)(z)
	}
	file("tour/setup.exe", "MZ")(z)
	file("tour/audio/.hidden.wav", "x")(z)
	file("__other/show.txt", "x")(z)
	require.NoError(t, z.Close())
	to := filepath.Join(t.TempDir(), "show")
	u, err := unpack(b.Bytes(), to)
	require.NoError(t, err)
	require.Equal(t, filesIn(t, filepath.Join("testdata", "tidy")), filesIn(t, to))
	require.Equal(t, []string{"__other/show.txt", "tour/audio/.hidden.wav", "tour/setup.exe"}, u.Skipped)
}

func TestUnpackOfNoShow(t *testing.T) {
	var b bytes.Buffer
	z := zip.NewWriter(&b)
	file("stock.toml", "")(z)
	require.NoError(t, z.Close())
	_, err := unpack(b.Bytes(), filepath.Join(t.TempDir(), "show"))
	var none *shows.NoShowError
	require.ErrorAs(t, err, &none)

	parent := t.TempDir()
	broken := made(t, file("nights/broken.toml", "schema = 1\nname = \n"))
	_, err = unpack(broken, filepath.Join(parent, "show"))
	var bad *shows.UnreadableError
	require.ErrorAs(t, err, &bad)
	left, err := os.ReadDir(parent)
	require.NoError(t, err)
	require.Empty(t, left)
}

func TestPackingEndsWhenAsked(t *testing.T) {
	ctx, stop := context.WithCancel(context.Background())
	stop()
	dir := withSound(t)
	var b bytes.Buffer
	_, err := shows.Pack(ctx, dir, &b, shows.PackOptions{})
	require.ErrorIs(t, err, context.Canceled)

	archive, _ := pack(t, dir, shows.PackOptions{})
	parent := t.TempDir()
	_, err = shows.Unpack(ctx, bytes.NewReader(archive), int64(len(archive)), filepath.Join(parent, "show"), shows.UsualLimits())
	require.ErrorIs(t, err, context.Canceled)
	left, err := os.ReadDir(parent)
	require.NoError(t, err)
	require.Empty(t, left)
}

// A byte changed anywhere gives the same show, another readable one or an
// error, and never a file outside.
func TestDamagedArchives(t *testing.T) {
	archive, _ := pack(t, withSound(t), shows.PackOptions{})
	rapid.Check(t, func(r *rapid.T) {
		b := slices.Clone(archive)
		for range rapid.IntRange(1, 4).Draw(r, "changes") {
			b[rapid.IntRange(0, len(b)-1).Draw(r, "where")] = rapid.Byte().Draw(r, "what")
		}
		unpacksInside(t, b)
	})
}

// FuzzUnpack unpacks any bytes.
func FuzzUnpack(f *testing.F) {
	archive, _ := pack(f, withSound(f), shows.PackOptions{})
	f.Add(archive)
	f.Add(made(f, file("../x", "x")))
	f.Add([]byte("PK\x05\x06"))
	f.Fuzz(func(t *testing.T, b []byte) { unpacksInside(t, b) })
}

// unpacksInside unpacks into a folder of its own and looks that nothing stands
// beside it.
func unpacksInside(t testing.TB, archive []byte) {
	parent, err := os.MkdirTemp(t.TempDir(), "")
	require.NoError(t, err)
	limits := shows.UsualLimits()
	limits.Total = 1 << 20
	_, err = shows.Unpack(context.Background(), bytes.NewReader(archive), int64(len(archive)), filepath.Join(parent, "show"), limits)
	left, readErr := os.ReadDir(parent)
	require.NoError(t, readErr)
	switch {
	case err != nil:
		require.Empty(t, left)
	default:
		require.Len(t, left, 1)
		require.Equal(t, "show", left[0].Name())
	}
}
