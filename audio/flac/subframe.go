package flac

import (
	mathbits "math/bits"

	"emberbeat/audio/bits"
)

// readSubframe reads the samples of one channel, of that many bits each (RFC
// 9639 §9.2).
func readSubframe(r *bits.Reader, data []int64, width int) bool {
	if r.Flag() {
		return false
	}
	kind := r.Read(6)
	wasted := 0
	if r.Flag() {
		wasted = r.Unary(width) + 1
	}
	if width -= wasted; width <= 0 {
		return false
	}
	ok := true
	switch {
	case kind == 0:
		v := r.Signed(width)
		for i := range data {
			data[i] = v
		}
	case kind == 1:
		readPlain(r, data, width)
	case kind >= 8 && kind <= 12:
		ok = readFixed(r, data, width, kind-8)
	case kind >= 32:
		ok = readLinear(r, data, width, kind-31)
	default:
		ok = false
	}
	if wasted > 0 {
		for i := range data {
			data[i] <<= wasted
		}
	}
	return ok
}

// readPlain reads samples that are not compressed.
func readPlain(r *bits.Reader, data []int64, width int) {
	for i := range data {
		data[i] = r.Signed(width)
	}
}

// readFixed reads samples predicted by a polynomial through the last few.
func readFixed(r *bits.Reader, data []int64, width, order int) bool {
	if order > len(data) {
		return false
	}
	readPlain(r, data[:order], width)
	if !readResidual(r, data, order) {
		return false
	}
	switch order {
	case 1:
		for i := 1; i < len(data); i++ {
			data[i] += data[i-1]
		}
	case 2:
		for i := 2; i < len(data); i++ {
			data[i] += 2*data[i-1] - data[i-2]
		}
	case 3:
		for i := 3; i < len(data); i++ {
			data[i] += 3*(data[i-1]-data[i-2]) + data[i-3]
		}
	case 4:
		for i := 4; i < len(data); i++ {
			data[i] += 4*(data[i-1]+data[i-3]) - 6*data[i-2] - data[i-4]
		}
	}
	return true
}

// readLinear reads samples predicted from the last ones by given weights.
func readLinear(r *bits.Reader, data []int64, width, order int) bool {
	if order > len(data) {
		return false
	}
	readPlain(r, data[:order], width)
	precision, shift := r.Read(4)+1, r.Signed(5)
	if precision == 16 || shift < 0 {
		return false
	}
	var weights [32]int64
	for i := range order {
		weights[order-1-i] = r.Signed(precision) // oldest first
	}
	if !readResidual(r, data, order) {
		return false
	}
	predict(data, weights[:order], uint(shift))
	return true
}

// predict adds to each sample what the weights make of those before it.
func predict(data, weights []int64, shift uint) {
	order := len(weights)
	for i := order; i < len(data); i++ {
		past := data[i-order : i]
		var sum int64
		for j, w := range weights {
			sum += w * past[j]
		}
		data[i] += sum >> shift
	}
}

// readResidual reads the differences to the prediction, behind the first order
// samples (RFC 9639 §9.2.7): partitions of Rice codes.
func readResidual(r *bits.Reader, data []int64, order int) bool {
	method := r.Read(2)
	partitions := 1 << r.Read(4)
	if method > 1 || len(data)%partitions != 0 || len(data)/partitions < order {
		return false
	}
	paramBits := 4 + method
	escape := 1<<paramBits - 1
	size := len(data) / partitions
	for p := range partitions {
		part := data[max(order, p*size) : (p+1)*size]
		param := r.Read(paramBits)
		switch {
		case param == escape:
			if width := r.Read(5); width > 0 {
				readPlain(r, part, width)
			} else {
				clear(part)
			}
		default:
			readRice(r, part, param)
		}
		if r.Pos > r.End {
			return false
		}
	}
	return true
}

// readRice reads Rice codes: a quotient in unary, param bits of rest; the sign
// is the lowest bit.
func readRice(r *bits.Reader, part []int64, param int) {
	for i := range part {
		w := r.Window()
		q := mathbits.LeadingZeros64(w)
		var v uint64
		if q+1+param <= 56 {
			v = uint64(q)<<param | w<<(q+1)>>1>>(63-param)
			r.Pos += q + 1 + param
		} else {
			q = r.Unary(r.End)
			v = uint64(q)<<param | uint64(r.Read(param))
			if r.Pos > r.End {
				return
			}
		}
		part[i] = int64(v>>1) ^ -int64(v&1)
	}
}
