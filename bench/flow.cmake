# The peer is there where the tests are.
if(BELLHOLE_TESTS)
  add_executable(bench_flow EXCLUDE_FROM_ALL flow_bench.cpp)
  target_link_libraries(bench_flow PRIVATE bh_options bh_kinsol_peer)
  add_dependencies(benches bench_flow)
endif()
