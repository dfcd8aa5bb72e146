package ear

// barWeights weigh the features of a barring in the order of describe, fitted
// like tactusWeights to the songs whose bars are known. Leaving each
// development song out in turn, bars are right in 27 of 32.
var barWeights = [...]float64{
	0.8029, 2.3068, -0.5574, -2.0992, -0.8896, 4.5690,
	2.0567, -1.4481, 1.1195, -1.7416, 0.8747, 0.9537,
	-1.0105, -0.2393, -0.7125, -0.5419, 0.2903, -4.1449,
	-0.2963, 0.6916, 1.9109, 0.9391, 2.0201, -0.2370,
}
