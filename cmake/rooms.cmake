# A room is a folder with one CMake target. NEEDS names the rooms whose headers it may include; the include
# check (tests/house) holds the same arrows against the sources.

add_library(bh_options INTERFACE)
target_compile_features(bh_options INTERFACE cxx_std_23)
target_include_directories(bh_options INTERFACE ${PROJECT_SOURCE_DIR} ${PROJECT_SOURCE_DIR}/engine)
target_compile_options(bh_options INTERFACE
  -Wall -Wextra -Wshadow -Wnon-virtual-dtor -Wold-style-cast -Woverloaded-virtual -Wno-missing-field-initializers
  -ffp-contract=off)
if(BELLHOLE_SANITIZE OR BELLHOLE_FUZZ)
  # Instrumented code makes the optimiser see ghosts, so warnings are not errors here: the plain builds hold them.
  set(checks -fsanitize=address,undefined -fno-sanitize-recover=all -fno-omit-frame-pointer)
  target_compile_options(bh_options INTERFACE ${checks})
  target_link_options(bh_options INTERFACE ${checks})
  if(BELLHOLE_FUZZ)
    target_compile_options(bh_options INTERFACE -fsanitize=fuzzer-no-link)
  endif()
else()
  target_compile_options(bh_options INTERFACE -Werror)
endif()

# bellhole_room(units SOURCES a.cpp NEEDS findings LIBRARIES fmt::fmt)
function(bellhole_room name)
  cmake_parse_arguments(ROOM "" "" "SOURCES;NEEDS;LIBRARIES" ${ARGN})
  if(ROOM_SOURCES)
    add_library(bh_${name} STATIC ${ROOM_SOURCES})
    set(scope PUBLIC)
  else()
    add_library(bh_${name} INTERFACE)
    set(scope INTERFACE)
  endif()
  target_link_libraries(bh_${name} ${scope} bh_options ${ROOM_LIBRARIES})
  foreach(need ${ROOM_NEEDS})
    target_link_libraries(bh_${name} ${scope} bh_${need})
  endforeach()
endfunction()

# Loops over long columns, by twos, which changes no rounding. (The browser's build is made for size.)
function(bellhole_long_loops name)
  target_compile_options(bh_${name} PRIVATE
    $<$<CXX_COMPILER_ID:GNU>:-ftree-vectorize$<SEMICOLON>-fvect-cost-model=dynamic$<SEMICOLON>-fno-math-errno$<SEMICOLON>-fno-trapping-math>)
endfunction()

# Target name, linked with the rooms in ARGN that its sources include.
function(bellhole_needs target)
  foreach(need ${ARGN})
    target_link_libraries(${target} PRIVATE bh_${need})
  endforeach()
endfunction()

# bellhole_test(units SOURCES a_test.cpp NEEDS units): one test program a room, test_<name>.
function(bellhole_test name)
  if(NOT BELLHOLE_TESTS)
    return()
  endif()
  cmake_parse_arguments(ROOM "" "" "SOURCES;NEEDS;LIBRARIES" ${ARGN})
  add_executable(test_${name} ${ROOM_SOURCES})
  target_link_libraries(test_${name} PRIVATE bh_options GTest::gtest GTest::gtest_main ${ROOM_LIBRARIES})
  if(BELLHOLE_RAPIDCHECK)
    target_link_libraries(test_${name} PRIVATE ${BELLHOLE_RAPIDCHECK})
  endif()
  bellhole_needs(test_${name} ${ROOM_NEEDS})
  target_compile_definitions(test_${name} PRIVATE BELLHOLE_SOURCE_DIR="${PROJECT_SOURCE_DIR}")
  add_test(NAME ${name} COMMAND test_${name})
endfunction()

# bellhole_deep(steady SOURCES a_deep.cpp NEEDS network LIBRARIES x): a slow reference, at most an hour, that only
# `./dev deep steady` builds and runs. Any test labelled "deep" is run there and only there.
function(bellhole_deep name)
  if(NOT BELLHOLE_TESTS)
    return()
  endif()
  cmake_parse_arguments(ROOM "" "" "SOURCES;NEEDS;LIBRARIES" ${ARGN})
  add_executable(deep_${name} EXCLUDE_FROM_ALL ${ROOM_SOURCES})
  target_link_libraries(deep_${name} PRIVATE
    bh_options GTest::gtest GTest::gtest_main ${BELLHOLE_RAPIDCHECK} ${ROOM_LIBRARIES})
  bellhole_needs(deep_${name} ${ROOM_NEEDS})
  target_compile_definitions(deep_${name} PRIVATE BELLHOLE_SOURCE_DIR="${PROJECT_SOURCE_DIR}")
  add_dependencies(references deep_${name})
  add_test(NAME ${name} COMMAND deep_${name})
  set_tests_properties(${name} PROPERTIES LABELS deep TIMEOUT 3600)
endfunction()

# bellhole_bench(plan SOURCES a.cpp NEEDS plan): a program bench_<name> that only `./dev bench` builds and runs.
function(bellhole_bench name)
  cmake_parse_arguments(ROOM "" "" "SOURCES;NEEDS;LIBRARIES" ${ARGN})
  add_executable(bench_${name} EXCLUDE_FROM_ALL ${ROOM_SOURCES})
  target_link_libraries(bench_${name} PRIVATE bh_options ${ROOM_LIBRARIES})
  bellhole_needs(bench_${name} ${ROOM_NEEDS})
  target_compile_definitions(bench_${name} PRIVATE BELLHOLE_SOURCE_DIR="${PROJECT_SOURCE_DIR}")
  set_target_properties(bench_${name} PROPERTIES RUNTIME_OUTPUT_DIRECTORY ${PROJECT_BINARY_DIR}/bench)
  add_dependencies(benches bench_${name})
endfunction()

# bellhole_fuzz(units NEEDS units): fuzz/<name>.cpp, bytes against a door that takes bytes. Among the tests it is
# fed what fuzz/corpus/<name> and fuzz/crashes/<name> hold; with BELLHOLE_FUZZ (clang) it looks for more.
function(bellhole_fuzz name)
  cmake_parse_arguments(ROOM "" "" "NEEDS;LIBRARIES" ${ARGN})
  if(BELLHOLE_FUZZ)
    add_executable(fuzz_${name} ${name}.cpp)
    target_link_options(fuzz_${name} PRIVATE -fsanitize=fuzzer)
    add_dependencies(fuzzers fuzz_${name})
  elseif(BELLHOLE_TESTS)
    add_executable(fuzz_${name} ${name}.cpp replay.cpp)
    add_test(NAME fuzz_${name} COMMAND fuzz_${name} ${CMAKE_CURRENT_SOURCE_DIR}/corpus/${name}
      ${CMAKE_CURRENT_SOURCE_DIR}/crashes/${name})
  else()
    return()
  endif()
  target_link_libraries(fuzz_${name} PRIVATE bh_options ${ROOM_LIBRARIES})
  bellhole_needs(fuzz_${name} ${ROOM_NEEDS})
endfunction()
