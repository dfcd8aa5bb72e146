package main

import (
	"context"
	"encoding/binary"
	"os"
	"strconv"
	"strings"

	"github.com/rogpeppe/go-internal/testscript"

	"emberbeat/audio"
	"emberbeat/audio/testsound"
)

// splice FILE RECORDING PIECE… writes a WAV file of pieces of a recording: FROM..TO in
// seconds, silence=SECONDS, and bext=SECONDS for a time reference from midnight.
func splice(ts *testscript.TestScript, neg bool, args []string) {
	if neg || len(args) < 3 {
		ts.Fatalf("usage: splice FILE RECORDING PIECE…")
	}
	pcm, err := audio.Decode(context.Background(), ts.MkAbs(args[1]), nil)
	ts.Check(err)
	number := func(text string) float64 {
		x, err := strconv.ParseFloat(text, 64)
		ts.Check(err)
		return x
	}
	frame := func(text string) int {
		return min(int(number(text)*float64(pcm.Rate)+0.5), len(pcm.Samples)/pcm.Channels)
	}
	var out []int16
	reference := uint64(0)
	for _, piece := range args[2:] {
		if text, ok := strings.CutPrefix(piece, "silence="); ok {
			out = append(out, make([]int16, int(number(text)*float64(pcm.Rate)+0.5)*pcm.Channels)...)
			continue
		}
		if text, ok := strings.CutPrefix(piece, "bext="); ok {
			reference = uint64(number(text)*float64(pcm.Rate) + 0.5)
			continue
		}
		from, to, ok := strings.Cut(piece, "..")
		if !ok {
			ts.Fatalf("%q is no piece", piece)
		}
		for _, x := range pcm.Samples[frame(from)*pcm.Channels : frame(to)*pcm.Channels] {
			out = append(out, int16(max(-1, min(x, 1))*32767))
		}
	}
	name := ts.MkAbs(args[0])
	ts.Check(testsound.WriteWAV16(name, pcm.Rate, pcm.Channels, out))
	if reference > 0 { // EBU Tech 3285: the time reference stands after 338 bytes of the extension
		b, err := os.ReadFile(name)
		ts.Check(err)
		body := make([]byte, 602)
		binary.LittleEndian.PutUint64(body[338:], reference)
		b = testsound.Chunk(b, "bext", body)
		binary.LittleEndian.PutUint32(b[4:], uint32(len(b)-8))
		ts.Check(os.WriteFile(name, b, 0o644))
	}
}
