// Times as a crew says them.
#pragma once

#include <string>

#include "units/print.hpp"

namespace bellhole::linepack {

/// "45 s", "12 min 5 s", "2 h 6 min", "3 d 4 h"; "not known" when not finite. Whole units of the
/// smallest shown, rounded the way that is asked for.
std::string spell(Duration time, units::Toward toward);

}  // namespace bellhole::linepack
