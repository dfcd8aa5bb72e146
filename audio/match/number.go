package match

import "slices"

// quantile is the q-quantile, 0 to 1, of what is yielded; 0 of nothing.
func quantile(values func(yield func(float64)), q float64) float64 {
	var list []float64
	values(func(v float64) { list = append(list, v) })
	return quantileOf(list, q)
}

// quantileOf is the q-quantile of a list, which it sorts.
func quantileOf(list []float64, q float64) float64 {
	if len(list) == 0 {
		return 0
	}
	slices.Sort(list)
	return list[min(len(list)-1, int(q*float64(len(list))))]
}
