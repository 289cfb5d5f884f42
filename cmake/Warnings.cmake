# One interface target carries the warnings every file of ours is compiled with.
add_library(dapple_warnings INTERFACE)
target_compile_options(dapple_warnings INTERFACE
  -Wall -Wextra -Wpedantic -Wshadow -Wnon-virtual-dtor -Wold-style-cast -Wcast-align -Woverloaded-virtual
  -Wdouble-promotion -Wimplicit-fallthrough -Werror)
if(DAPPLE_SANITIZE)
  add_compile_options(-fsanitize=address,undefined -fno-sanitize-recover=undefined -fno-omit-frame-pointer)
  add_link_options(-fsanitize=address,undefined)
endif()
if(DAPPLE_FUZZ)
  add_compile_options(-fsanitize=fuzzer-no-link)
endif()
