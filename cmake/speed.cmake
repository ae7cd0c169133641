# A compiler cache and a fast linker, used where a developer has them and never needed.
find_program(BELLHOLE_CCACHE ccache)
if(BELLHOLE_CCACHE AND NOT CMAKE_CXX_COMPILER_LAUNCHER)
  set(CMAKE_CXX_COMPILER_LAUNCHER ${BELLHOLE_CCACHE})
endif()
find_program(BELLHOLE_MOLD mold)
if(BELLHOLE_MOLD AND BELLHOLE_NATIVE)
  add_link_options(-fuse-ld=mold)
endif()
