// What Debian's wasm32 runtime leaves to the program: it was built with the stack protector, and no
// library defines the two symbols that this needs.
#include <cstdint>

extern "C" {
extern const std::uintptr_t __stack_chk_guard;
const std::uintptr_t __stack_chk_guard = 0x5bd1e995;
[[noreturn]] void __stack_chk_fail();
void __stack_chk_fail() { __builtin_trap(); }
}
