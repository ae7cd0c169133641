# The toolchain of the phone engine: clang-19 with wasi-libc and libc++-19, no exceptions, no threads.
#
#   cmake -S . -B build/wasm -G Ninja -DCMAKE_TOOLCHAIN_FILE=$PWD/cmake/wasi.cmake
#
# Header-only libraries come through a folder of links (cmake/libraries.cmake): the system's include folder as a
# whole would put glibc's headers in front of wasi-libc's.
list(APPEND CMAKE_MODULE_PATH ${CMAKE_CURRENT_LIST_DIR})  # Platform/WASI.cmake
set(CMAKE_SYSTEM_NAME WASI)
set(CMAKE_SYSTEM_PROCESSOR wasm32)
set(CMAKE_C_COMPILER clang-19)
set(CMAKE_CXX_COMPILER clang++-19)
set(CMAKE_AR llvm-ar-19)
set(CMAKE_RANLIB llvm-ranlib-19)
set(CMAKE_CXX_COMPILER_TARGET wasm32-wasi)

# Debian's wasm runtime cannot link a whole program before the support file of apps/browser is there, so CMake
# tries the compiler on a library.
set(CMAKE_TRY_COMPILE_TARGET_TYPE STATIC_LIBRARY)
set(CMAKE_CXX_FLAGS_INIT "-fno-exceptions")

set(CMAKE_FIND_ROOT_PATH_MODE_PROGRAM NEVER)
set(CMAKE_FIND_ROOT_PATH_MODE_LIBRARY ONLY)
set(CMAKE_FIND_ROOT_PATH_MODE_INCLUDE ONLY)
set(CMAKE_FIND_ROOT_PATH_MODE_PACKAGE ONLY)
