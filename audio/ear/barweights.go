package ear

// barWeights weigh the features of a barring in the order of describe, fitted
// like tactusWeights.
var barWeights = [...]float64{
	0.6905, 2.6591, -0.3552, -0.8867, -0.5022, 3.7080,
	2.3661, -0.6128, 0.5773, -1.0950, 0.6041, 0.2319,
	-0.6818, -0.4218, -0.5205, -0.1295, -0.2196, -3.2003,
	-0.1502, 0.4042, 0.9121, 0.9105, 1.3932, 0.0654,
}
