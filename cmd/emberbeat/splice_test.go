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
// seconds, silence=SECONDS, and bext=SECONDS for a time reference from midnight. bright
// mixes the whole anew, louder in the heights and softer in all; back plays it from its
// end, which is another song of the same sounds.
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
	bright, back := false, false
	for _, piece := range args[2:] {
		switch piece {
		case "bright":
			bright = true
			continue
		case "back":
			back = true
			continue
		}
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
	if bright {
		brighter(out, pcm.Channels)
	}
	if back {
		backwards(out, pcm.Channels)
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

// brighter takes part of the sample before from each one, of 16 bits.
func brighter(x []int16, channels int) {
	last := make([]float64, channels)
	for i, v := range x {
		c := i % channels
		x[i] = int16(max(-32768, min(0.8*(float64(v)-0.5*last[c]), 32767)))
		last[c] = float64(v)
	}
}

// backwards turns frames around in time.
func backwards(x []int16, channels int) {
	for i, j := 0, len(x)-channels; i < j; i, j = i+channels, j-channels {
		for c := range channels {
			x[i+c], x[j+c] = x[j+c], x[i+c]
		}
	}
}
