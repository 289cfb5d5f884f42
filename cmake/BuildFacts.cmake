# What `dapple --version` says of the build. The date is that of SOURCE_DATE_EPOCH where it is set, else of the commit,
# so that building the same sources twice gives the same program.
set(DAPPLE_COMMIT "")
set(DAPPLE_DATE "")
find_package(Git QUIET)
if(GIT_FOUND)
  set(git "${CMAKE_COMMAND}" -E env TZ=UTC "${GIT_EXECUTABLE}" -C "${CMAKE_SOURCE_DIR}")
  execute_process(COMMAND ${git} log -1 --date=format-local:%Y-%m-%d "--format=%h;%cd"
                  OUTPUT_VARIABLE facts OUTPUT_STRIP_TRAILING_WHITESPACE ERROR_QUIET)
  if(facts)
    list(GET facts 0 DAPPLE_COMMIT)
    list(GET facts 1 DAPPLE_DATE)
  endif()
  # A commit moves the log of HEAD: configure again then, so that the program never names an older one.
  execute_process(COMMAND ${git} rev-parse --git-path logs/HEAD
                  OUTPUT_VARIABLE log OUTPUT_STRIP_TRAILING_WHITESPACE ERROR_QUIET)
  cmake_path(ABSOLUTE_PATH log BASE_DIRECTORY "${CMAKE_SOURCE_DIR}")
  if(EXISTS "${log}")
    set_property(DIRECTORY APPEND PROPERTY CMAKE_CONFIGURE_DEPENDS "${log}")
  endif()
endif()
if(DEFINED ENV{SOURCE_DATE_EPOCH} OR NOT DAPPLE_DATE)
  string(TIMESTAMP DAPPLE_DATE "%Y-%m-%d" UTC)  # honours SOURCE_DATE_EPOCH
endif()

# Only the one file that prints them is compiled again when they change.
set_source_files_properties("${CMAKE_SOURCE_DIR}/src/cli/version.cpp" PROPERTIES COMPILE_DEFINITIONS
  "DAPPLE_VERSION=\"${PROJECT_VERSION}\";DAPPLE_COMMIT=\"${DAPPLE_COMMIT}\";DAPPLE_DATE=\"${DAPPLE_DATE}\";DAPPLE_COMPILER=\"${CMAKE_CXX_COMPILER_ID} ${CMAKE_CXX_COMPILER_VERSION}\";DAPPLE_BUILD=\"$<CONFIG>\";DAPPLE_PROCESSOR=\"${CMAKE_SYSTEM_PROCESSOR}\"")
