package setpicture_test

import _ "emberbeat/timeline/testtool" // the seed of random walks
