package vorbis

// residue is a residue (Vorbis I §8): the fine spectrum, in partitions
// that are coded by their class in up to eight passes.
type residue struct {
	kind       int
	begin, end int
	size       int // of a partition
	classBook  int
	books      [][8]int // by class and pass; -1 for none
	classes    [][]int  // of each partition in each vector, for one packet
}

// read reads a residue.
func (x *residue) read(r *bitReader, books []book) bool {
	x.kind = r.read(16)
	x.begin, x.end = r.read(24), r.read(24)
	x.size = r.read(24) + 1
	x.books = make([][8]int, r.read(6)+1)
	x.classBook = r.read(8)
	if x.kind > 2 || x.classBook >= len(books) {
		return false
	}
	passes := make([]int, len(x.books))
	for i := range passes {
		passes[i] = r.read(3)
		if r.flag() {
			passes[i] |= r.read(5) << 3
		}
	}
	for i, p := range passes {
		for pass := range 8 {
			x.books[i][pass] = -1
			if p>>pass&1 == 0 {
				continue
			}
			b := r.read(8)
			if b >= len(books) || books[b].values == nil {
				return false
			}
			x.books[i][pass] = b
		}
	}
	return !r.over()
}

// decode adds what the packet holds to vectors; those whose skip is set are not
// in it. A packet that ends early leaves the rest as it is.
func (x *residue) decode(r *bitReader, books []book, vectors [][]float32, skip []bool) {
	size := len(vectors[0])
	begin, end := min(x.begin, size), min(x.end, size)
	parts := max(0, end-begin) / x.size
	group := books[x.classBook].dims
	x.makeRoom(len(vectors), parts+group)
	for pass := range 8 {
		for p := 0; p < parts; p++ {
			if pass == 0 && p%group == 0 && !x.readClasses(r, &books[x.classBook], p, skip) {
				return
			}
			at := begin + p*x.size
			for i, v := range vectors {
				if skip[i] {
					continue
				}
				b := x.books[x.classes[i][p]][pass]
				if b >= 0 && !x.add(r, &books[b], v[at:at+x.size]) {
					return
				}
			}
		}
	}
}

// makeRoom has classes hold n partitions of each vector.
func (x *residue) makeRoom(vectors, n int) {
	for len(x.classes) < vectors {
		x.classes = append(x.classes, nil)
	}
	for i := range x.classes {
		if len(x.classes[i]) < n {
			x.classes[i] = make([]int, n)
		}
	}
}

// readClasses reads the classes of a group of partitions from p on.
func (x *residue) readClasses(r *bitReader, book *book, p int, skip []bool) bool {
	for i, not := range skip {
		if not {
			continue
		}
		word := book.entry(r)
		if r.over() {
			return false
		}
		for d := book.dims - 1; d >= 0; d-- {
			x.classes[i][p+d] = word % len(x.books)
			word /= len(x.books)
		}
	}
	return true
}

// add adds vectors of a book to a partition.
func (x *residue) add(r *bitReader, book *book, part []float32) bool {
	if x.kind == 0 {
		return x.addSpread(r, book, part)
	}
	for len(part) > 0 {
		v := book.vector(book.entry(r))
		if r.over() {
			return false
		}
		n := min(len(v), len(part))
		for i, a := range v[:n] {
			part[i] += a
		}
		part = part[n:]
	}
	return true
}

// addSpread does so for residues of type 0, where the values of a vector lie
// apart.
func (x *residue) addSpread(r *bitReader, book *book, part []float32) bool {
	step := len(part) / book.dims
	for i := range step {
		v := book.vector(book.entry(r))
		if r.over() {
			return false
		}
		for k, a := range v {
			part[i+k*step] += a
		}
	}
	return true
}
