// Stands in for oneTBB: see ../../tbb/parallel_for.h.
#pragma once

#include "../../tbb/global_control.h"
