# dapple_folder(NAME [USES folder...] [LIBRARIES target...]): src/NAME becomes the library dapple_NAME.
function(dapple_folder name)
  cmake_parse_arguments(ARG "" "" "USES;LIBRARIES" ${ARGN})
  file(GLOB sources CONFIGURE_DEPENDS "${CMAKE_SOURCE_DIR}/src/${name}/*.cpp")
  add_library(dapple_${name} STATIC ${sources})
  target_include_directories(dapple_${name} PUBLIC "${CMAKE_SOURCE_DIR}/src")
  list(TRANSFORM ARG_USES PREPEND dapple_)
  target_link_libraries(dapple_${name} PUBLIC ${ARG_USES} ${ARG_LIBRARIES} PRIVATE dapple_warnings)
endfunction()
