// A machine whose clocks and chance are those of the test.
#pragma once

#include <string>

#include "store/store.hpp"

namespace bellhole::store {

inline constexpr const char* test_job = "019abcde-0000-7000-8000-000000000001";

/// Its clock moves a second with each look; device "desk-1", or the store's own where empty.
Machine test_machine(std::string device = "desk-1");

/// A draft of a note.
std::string note(int number);

}  // namespace bellhole::store
