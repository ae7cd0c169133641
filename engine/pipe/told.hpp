// An answer that a person or a map gives, or does not.
#pragma once

namespace bellhole::pipe {

enum class Told { no, yes, unknown };

/// What makes a length of PE something other than a plain buried pipe.
struct Lining {
  Told inserted = Told::unknown;  ///< pushed through an old pipe
  Told cased = Told::unknown;
  Told layered = Told::unknown;  ///< peelable skin or barrier layer
  Told lined = Told::unknown;
};

}  // namespace bellhole::pipe
