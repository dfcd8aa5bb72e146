package night

import _ "emberbeat/timeline/witness" // the seed of random walks
