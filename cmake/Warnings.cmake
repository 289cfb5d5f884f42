# One interface target carries the warnings every file of ours is compiled with.
add_library(dapple_warnings INTERFACE)
target_compile_options(dapple_warnings INTERFACE
  -Wall -Wextra -Wpedantic -Wshadow -Wnon-virtual-dtor -Wold-style-cast -Wcast-align -Woverloaded-virtual
  -Wdouble-promotion -Wimplicit-fallthrough -Werror)
if(CMAKE_CXX_COMPILER_ID STREQUAL "GNU" AND CMAKE_CXX_COMPILER_VERSION VERSION_LESS 13)
  # GCC 12 warns falsely in its own std::string and std::optional (its bugs 105329 and 105562).
  target_compile_options(dapple_warnings INTERFACE -Wno-restrict -Wno-maybe-uninitialized)
endif()
if(DAPPLE_SANITIZE)
  add_compile_options(-fsanitize=address,undefined -fno-sanitize-recover=undefined -fno-omit-frame-pointer)
  add_link_options(-fsanitize=address,undefined)
endif()
if(DAPPLE_FUZZ)
  add_compile_options(-fsanitize=fuzzer-no-link)
endif()
