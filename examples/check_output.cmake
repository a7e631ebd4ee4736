# Runs `program` with `arguments` (separated by |). With `expected` its output must be that of the file, byte for byte;
# with `refused` it must exit with 2, print nothing and say one line on the error stream that matches.
string(REPLACE "|" ";" arguments "${arguments}")
execute_process(COMMAND "${program}" ${arguments} OUTPUT_VARIABLE output ERROR_VARIABLE error RESULT_VARIABLE status)
if(NOT "${expected}" STREQUAL "")
  file(READ "${expected}" wanted)
  if(NOT "${output}" STREQUAL "${wanted}" OR NOT "${error}" STREQUAL "" OR NOT "${status}" STREQUAL "0")
    message(FATAL_ERROR "exit status ${status}, error stream \"${error}\"; output is not that of ${expected}:\n${output}")
  endif()
elseif(NOT "${refused}" STREQUAL "")
  string(REGEX MATCHALL "\n" line_ends "${error}")
  list(LENGTH line_ends lines)
  if(NOT "${status}" STREQUAL "2" OR NOT "${output}" STREQUAL "" OR NOT lines EQUAL 1 OR NOT "${error}" MATCHES
                                                                                         "${refused}")
    message(FATAL_ERROR "exit status ${status}, output \"${output}\", error stream \"${error}\"; wanted ${refused}")
  endif()
else()
  message(FATAL_ERROR "neither expected nor refused is given")
endif()
