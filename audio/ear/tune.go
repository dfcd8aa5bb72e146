package ear

var tune = map[string]float64{}

func tv(name string, def float64) float64 {
	if v, ok := tune[name]; ok {
		return v
	}
	return def
}
