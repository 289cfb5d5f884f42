# Run at build time by cmake/Web.cmake: installs the packages of web/package-lock.json if they changed, builds the
# application into web/dist and writes SOURCE, which carries it in the program.
include("${CMAKE_CURRENT_LIST_DIR}/Embed.cmake")

function(npm)
  execute_process(COMMAND "${NPM}" ${ARGN} WORKING_DIRECTORY "${WEB}" RESULT_VARIABLE status
                  OUTPUT_VARIABLE said ERROR_VARIABLE said)
  if(NOT status EQUAL 0)
    message(FATAL_ERROR "npm ${ARGN} failed:\n${said}")
  endif()
endfunction()

if("${WEB}/package-lock.json" IS_NEWER_THAN "${WEB}/node_modules/.package-lock.json")
  npm(ci --no-audit --no-fund)
endif()
npm(run build)

file(GLOB_RECURSE files RELATIVE "${WEB}/dist" "${WEB}/dist/*")
dapple_embed_source(text web "${WEB}/dist" ${files})
file(WRITE "${SOURCE}" "${text}")
