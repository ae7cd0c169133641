if(TARGET bh_sheets)
  bellhole_bench(job SOURCES job_bench.cpp NEEDS job wire ask sheets LIBRARIES bh_fmt bh_json)
endif()
