set(made ${PROJECT_SOURCE_DIR}/tests/unit/isolate)
add_executable(bench_isolate EXCLUDE_FROM_ALL isolate_bench.cpp ${made}/milp.cpp ${made}/shapes.cpp ${made}/sketch.cpp
  ${made}/town.cpp)
target_link_libraries(bench_isolate PRIVATE bh_options bh_isolate)
add_dependencies(benches bench_isolate)
