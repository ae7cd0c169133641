# The peer is there where the tests are.
if(BELLHOLE_TESTS)
  add_executable(bench_time EXCLUDE_FROM_ALL time_bench.cpp)
  target_link_libraries(bench_time PRIVATE bh_options bh_ida_peer)
  add_dependencies(benches bench_time)
endif()
