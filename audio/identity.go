package audio

import (
	"context"
	"crypto/sha256"
	"encoding/binary"
	"encoding/hex"
	"hash"
	"io"
	"math"
)

// Ident tells one song from another.
type Ident struct {
	FileHash string // SHA-256 of the file's bytes, hexadecimal
	PCMHash  string // of the decoded samples (PCMHash)
	Rate     int
	Channels int
	Frames   int64
}

// PCMHash makes a hash of decoded samples: the same music in another lossless
// container, with other tags or a wider sample format, has the same one.
type PCMHash struct {
	sum hash.Hash
	buf []byte
}

// NewPCMHash begins a hash of sound of that rate and number of channels.
func NewPCMHash(rate, channels int) *PCMHash {
	h := &PCMHash{sum: sha256.New()}
	h.sum.Write(binary.LittleEndian.AppendUint32(nil, uint32(rate)))
	h.sum.Write(binary.LittleEndian.AppendUint32(nil, uint32(channels)))
	return h
}

// Write adds frames; it is a sink for Run.
func (h *PCMHash) Write(frames []float32) error {
	h.buf = h.buf[:0]
	for _, v := range frames {
		h.buf = binary.LittleEndian.AppendUint32(h.buf, math.Float32bits(v))
	}
	h.sum.Write(h.buf)
	return nil
}

// Sum is the hash of what was written, hexadecimal.
func (h *PCMHash) Sum() string { return hex.EncodeToString(h.sum.Sum(nil)) }

// HashFile is the SHA-256 of the bytes of the file at path, hexadecimal.
func HashFile(ctx context.Context, path string) (string, error) {
	f, err := OpenFile(path)
	if err != nil {
		return "", err
	}
	defer f.Close()
	sum := sha256.New()
	if _, err := io.Copy(sum, &cancelReader{ctx, f}); err != nil {
		if ctx.Err() != nil {
			return "", ctx.Err()
		}
		return "", at(path, err)
	}
	return hex.EncodeToString(sum.Sum(nil)), nil
}

// cancelReader is a reader that fails once ctx ends.
type cancelReader struct {
	ctx context.Context
	r   io.Reader
}

// Read reads if ctx still stands.
func (c *cancelReader) Read(b []byte) (int, error) {
	if err := c.ctx.Err(); err != nil {
		return 0, err
	}
	return c.r.Read(b)
}

// Identify reads the file at path twice: its bytes and its samples. progress,
// which may be nil, hears of frames decoded.
func Identify(ctx context.Context, path string, progress func(done, total int64)) (Ident, error) {
	src, err := Open(path)
	if err != nil {
		return Ident{}, err
	}
	defer src.Close()
	in := src.Info()
	sum := NewPCMHash(in.Rate, in.Channels)
	if err := Run(ctx, src, 0, sum.Write, Progress(src, progress)); err != nil {
		return Ident{}, err
	}
	file, err := HashFile(ctx, path)
	if err != nil {
		return Ident{}, err
	}
	in = src.Info()
	return Ident{FileHash: file, PCMHash: sum.Sum(), Rate: in.Rate, Channels: in.Channels, Frames: in.Frames}, nil
}
