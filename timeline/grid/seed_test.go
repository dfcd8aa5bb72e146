package grid

import _ "emberbeat/timeline/testtool" // the seed of random walks
