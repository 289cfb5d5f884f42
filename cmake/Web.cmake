# dapple_web(TARGET): embeds the web application as embedded::web(). With DAPPLE_WEB=ON the build runs npm whenever
# a source of web/ is newer; with OFF the table is empty and the server says so.
function(dapple_web target)
  set(source "${CMAKE_BINARY_DIR}/embedded/web.cpp")
  if(NOT DAPPLE_WEB)
    dapple_embed_source(text web "")
    file(GENERATE OUTPUT "${source}" CONTENT "${text}")
    set_source_files_properties("${source}" PROPERTIES GENERATED TRUE)
    target_sources(${target} PRIVATE "${source}")
    return()
  endif()
  find_program(NPM npm)
  if(NOT NPM)
    message(FATAL_ERROR "The web application needs Node.js with npm (18.19 or newer); without it, configure with -DDAPPLE_WEB=OFF.")
  endif()
  set(web "${CMAKE_SOURCE_DIR}/web")
  file(GLOB_RECURSE inputs CONFIGURE_DEPENDS "${web}/src/*" "${web}/public/*")
  list(APPEND inputs "${web}/index.html" "${web}/package.json" "${web}/package-lock.json" "${web}/tsconfig.json"
       "${web}/vite.config.ts" "${CMAKE_SOURCE_DIR}/cmake/BuildWeb.cmake")
  add_custom_command(
    OUTPUT "${source}"
    COMMAND "${CMAKE_COMMAND}" "-DNPM=${NPM}" "-DWEB=${web}" "-DSOURCE=${source}" -P
            "${CMAKE_SOURCE_DIR}/cmake/BuildWeb.cmake"
    DEPENDS ${inputs}
    COMMENT "Building the web application"
    VERBATIM)
  target_sources(${target} PRIVATE "${source}")
endfunction()
