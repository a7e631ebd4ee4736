# The small programs: one file each, on the public API, with the output that they must print.
find_path(CLI11_INCLUDE_DIR CLI/CLI.hpp REQUIRED)
find_package(fmt REQUIRED)
find_package(Threads REQUIRED)
mark_as_advanced(CLI11_INCLUDE_DIR)

# example_test(name program [EXPECTED file | REFUSED regex] ARGUMENTS ...): the output is that of the file, or the
# input is refused with one line on the error stream that matches.
function(example_test name program)
  cmake_parse_arguments(PARSE_ARGV 2 arg "" "EXPECTED;REFUSED" "ARGUMENTS")
  string(REPLACE ";" "|" arguments "${arg_ARGUMENTS}")
  add_test(NAME "${name}"
           COMMAND "${CMAKE_COMMAND}" "-Dprogram=$<TARGET_FILE:${program}>" "-Darguments=${arguments}"
                   "-Dexpected=${arg_EXPECTED}" "-Drefused=${arg_REFUSED}"
                   -P "${CMAKE_CURRENT_SOURCE_DIR}/check_output.cmake")
endfunction()

set(programs slip_check speed_estimate range_table sensitivity)
if(NOT HARDCHINE_QUICK)
  list(APPEND programs design_sweep)
endif()
foreach(program IN LISTS programs)
  add_executable(${program} ${program}.cpp)
  target_include_directories(${program} SYSTEM PRIVATE "${CLI11_INCLUDE_DIR}")
  target_link_libraries(${program} PRIVATE hardchine_strict fmt::fmt)
  if(HARDCHINE_BUILD_TESTS AND NOT program STREQUAL "design_sweep")  # millions of cases
    example_test(example_${program}_demo ${program}
                 EXPECTED "${CMAKE_CURRENT_SOURCE_DIR}/expected/${program}.txt")
  endif()
endforeach()
if(NOT HARDCHINE_QUICK)
  target_link_libraries(design_sweep PRIVATE Threads::Threads)
endif()

if(HARDCHINE_BUILD_TESTS)
  set(expected "${CMAKE_CURRENT_SOURCE_DIR}/expected")
  # A reduction of 2 written as 0.5; an outboard in mph judged by the trade.
  example_test(example_slip_check_upside_down slip_check EXPECTED "${expected}/slip_check_upside_down.txt" ARGUMENTS
               --engine-speed "3000 rpm" --ratio 0.5 --pitch "26 in" --speed "27 kn" --boat fast)
  example_test(example_slip_check_outboard slip_check EXPECTED "${expected}/slip_check_outboard.txt" ARGUMENTS
               --engine-speed "5800 rpm" --ratio 1.75 --pitch "19 in" --speed "48.0 mph" --boat outboard-runabout)
  example_test(example_slip_check_bare_number slip_check REFUSED "speed is \"27\" without a unit" ARGUMENTS
               --engine-speed "3000 rpm" --ratio 2 --pitch "26 in" --speed 27 --boat fast)
  example_test(example_slip_check_no_pitch slip_check REFUSED "--pitch" ARGUMENTS
               --engine-speed "3000 rpm" --ratio 2 --speed "27 kn" --boat fast)
  example_test(example_slip_check_no_such_boat slip_check REFUSED "--boat" ARGUMENTS
               --engine-speed "3000 rpm" --ratio 2 --pitch "26 in" --speed "27 kn" --boat canoe)
  example_test(example_slip_check_zero_ratio slip_check REFUSED "reduction ratio is 0" ARGUMENTS
               --engine-speed "3000 rpm" --ratio 0 --pitch "26 in" --speed "27 kn" --boat fast)

  example_test(example_slip_check_unknown_option slip_check REFUSED "^slip_check: .*--no-such" ARGUMENTS
               --engine-speed "3000 rpm" --ratio 2 --pitch "26 in" --speed "27 kn" --boat fast --no-such 1)
  # A share without its sign, or a ratio of gears with one, would be 100 times too large or too small.
  foreach(option tachometer stamp)
    example_test(example_slip_check_bare_${option} slip_check REFUSED "${option} is \"0.5\" without %" ARGUMENTS
                 --engine-speed "3000 rpm" --ratio 2 --pitch "26 in" --speed "27 kn" --boat fast --${option} 0.5)
  endforeach()
  example_test(example_slip_check_ratio_in_percent slip_check REFUSED "ratio is \"200 %\"" ARGUMENTS
               --engine-speed "3000 rpm" --ratio "200 %" --pitch "26 in" --speed "27 kn" --boat fast)

  set(bare_hull --beam "3.2 m" --deadrise "18 deg" --chine-length "10.8 m" --displacement "10500 kg" --lcg "4.26 m"
      --vcg "1.14 m" --thrust-angle "9 deg")
  set(hull ${bare_hull} --coefficient "55 %" --appendages "14 %")
  example_test(example_speed_estimate_weak speed_estimate EXPECTED "${expected}/speed_estimate_weak.txt" ARGUMENTS
               ${hull} --thrust-below-cg "0.6 m" --power "290 kW" --air-drag-area "7.7 m2" --speed "20 kn")
  example_test(example_speed_estimate_above speed_estimate EXPECTED "${expected}/speed_estimate_above.txt" ARGUMENTS
               ${hull} --thrust-below-cg "-0.2 m" --power "500 hp" --air-drag-area "0 m2" --fresh-water)
  # Far too much power: faster than the search, chines dry.
  example_test(example_speed_estimate_too_fast speed_estimate EXPECTED "${expected}/speed_estimate_too_fast.txt"
               ARGUMENTS ${hull} --thrust-below-cg "0.6 m" --power "90000 kW" --air-drag-area "7.7 m2" --speed "80 kn")
  example_test(example_speed_estimate_no_air speed_estimate REFUSED "--air-drag-area" ARGUMENTS
               ${hull} --thrust-below-cg "0.6 m" --power "290 kW")
  example_test(example_speed_estimate_bare_number speed_estimate REFUSED "power is \"290\" without a unit" ARGUMENTS
               ${hull} --thrust-below-cg "0.6 m" --power 290 --air-drag-area "7.7 m2")
  example_test(example_speed_estimate_fast_detail speed_estimate REFUSED "speed is 201 kn" ARGUMENTS
               ${hull} --thrust-below-cg "0.6 m" --power "290 kW" --air-drag-area "7.7 m2" --speed "201 kn")
  example_test(example_speed_estimate_wrong_unit speed_estimate REFUSED "power is \"290 kg\"" ARGUMENTS
               ${hull} --thrust-below-cg "0.6 m" --power "290 kg" --air-drag-area "7.7 m2")
  set(rest --thrust-below-cg "0.6 m" --power "290 kW" --air-drag-area "7.7 m2")
  example_test(example_speed_estimate_bare_coefficient speed_estimate REFUSED "coefficient is \"0.55\" without %"
               ARGUMENTS ${bare_hull} ${rest} --coefficient 0.55 --appendages "14 %")
  example_test(example_speed_estimate_bare_appendages speed_estimate REFUSED "appendages is \"0.5\" without %"
               ARGUMENTS ${bare_hull} ${rest} --coefficient "55 %" --appendages 0.5)
  foreach(end least greatest)
    example_test(example_speed_estimate_bare_${end}_bias speed_estimate REFUSED "${end} drag bias is \"1\" without %"
                 ARGUMENTS ${hull} ${rest} --${end}-drag-bias 1)
  endforeach()

  set(steps --step "1000 rpm, 5.2 kn, 1.3 US gal/h" --step "2000 rpm, 8.3 kn, 4.8 US gal/h"
      --step "3000 rpm, 16.8 kn, 8.1 US gal/h" --step "3500 rpm, 22.6 kn, 10.2 US gal/h"
      --step "4000 rpm, 26.9 kn, 13.1 US gal/h" --step "5000 rpm, 34.4 kn, 20.9 US gal/h")
  example_test(example_range_table_gallons range_table EXPECTED "${expected}/range_table_gallons.txt" ARGUMENTS
               ${steps} --planing-from "3000 rpm" --capacity "90 US gal" --usable "85 US gal" --reserve thirds
               --reserve "10 US gal" --reserve none --current "-6 kn")
  # Less aboard than is held back: no range, and why.
  example_test(example_range_table_nothing_left range_table EXPECTED "${expected}/range_table_nothing_left.txt"
               ARGUMENTS ${steps} --planing-from "3000 rpm" --capacity "90 US gal" --usable "8 US gal"
               --reserve "10 % of capacity" --reserve thirds --current "6 kn")
  example_test(example_range_table_no_reserve range_table REFUSED "--reserve" ARGUMENTS
               ${steps} --planing-from "3000 rpm" --capacity "90 US gal" --usable "85 US gal" --current "0 kn")
  example_test(example_range_table_bad_reserve range_table REFUSED "reserve is .plenty.*thirds" ARGUMENTS
               ${steps} --planing-from "3000 rpm" --capacity "90 US gal" --usable "85 US gal" --reserve plenty
               --current "0 kn")
  example_test(example_range_table_bare_share range_table REFUSED "reserve is \"0.5 of capacity\" without %" ARGUMENTS
               ${steps} --planing-from "3000 rpm" --capacity "90 US gal" --usable "85 US gal"
               --reserve "0.5 of capacity" --current "0 kn")
  example_test(example_range_table_bad_step range_table REFUSED "step 1" ARGUMENTS
               --step "1000 rpm 5.2 kn" --planing-from "3000 rpm" --capacity "90 US gal" --usable "85 US gal"
               --reserve thirds --current "0 kn")
  example_test(example_range_table_plain_gallon range_table REFUSED "capacity is \"90 gal\"" ARGUMENTS
               ${steps} --planing-from "3000 rpm" --capacity "90 gal" --usable "85 US gal" --reserve thirds
               --current "0 kn")
  example_test(example_range_table_overfull range_table REFUSED "usable fuel is" ARGUMENTS
               ${steps} --planing-from "3000 rpm" --capacity "90 US gal" --usable "95 US gal" --reserve thirds
               --current "0 kn")

  set(shaft --propeller-forward "0.5 m" --propeller-above-keel "-60 mm" --speed "27 kn")
  # At the hump, thrust from behind the transom, no air drag.
  example_test(example_sensitivity_slow sensitivity EXPECTED "${expected}/sensitivity_slow.txt" ARGUMENTS
               ${hull} --propeller-forward "-0.4 m" --propeller-above-keel "0 m" --speed "18 kn" --air-drag-area "0 m2"
               --fresh-water)
  # A step of the check that leaves the accepted range has no number, and the rest of the page is there.
  example_test(example_sensitivity_flat sensitivity EXPECTED "${expected}/sensitivity_flat.txt" ARGUMENTS
               --beam "3.2 m" --deadrise "0.5 deg" --chine-length "10.8 m" --displacement "10500 kg" --lcg "4.26 m"
               --vcg "1.14 m" --thrust-angle "9 deg" --coefficient "55 %" --appendages "14 %" ${shaft}
               --air-drag-area "7.7 m2")
  example_test(example_sensitivity_fastest sensitivity EXPECTED "${expected}/sensitivity_fastest.txt" ARGUMENTS
               ${hull} --propeller-forward "0.5 m" --propeller-above-keel "-60 mm" --speed "190 kn"
               --air-drag-area "7.7 m2")
  example_test(example_sensitivity_no_speed sensitivity REFUSED "--speed" ARGUMENTS
               ${hull} --propeller-forward "0.5 m" --propeller-above-keel "-60 mm" --air-drag-area "7.7 m2")
  example_test(example_sensitivity_bare_coefficient sensitivity REFUSED "coefficient is \"0.55\" without %" ARGUMENTS
               ${bare_hull} ${shaft} --coefficient 0.55 --appendages "14 %" --air-drag-area "7.7 m2")
  example_test(example_sensitivity_wrong_unit sensitivity REFUSED "propeller forward is \"0.5 kg\"" ARGUMENTS
               ${hull} --propeller-forward "0.5 kg" --propeller-above-keel "-60 mm" --speed "27 kn"
               --air-drag-area "7.7 m2")
endif()

if(HARDCHINE_BUILD_TESTS AND NOT HARDCHINE_QUICK)
  # The threads do not show in the output; neither does where a block of cases ends, the odd number of the second.
  example_test(example_design_sweep_small design_sweep EXPECTED "${expected}/design_sweep.txt" ARGUMENTS
               --combinations 20000 --threads 1)
  example_test(example_design_sweep_small_threads design_sweep EXPECTED "${expected}/design_sweep.txt" ARGUMENTS
               --combinations 20000 --threads 3)
  set(sweep --combinations 70001 --least power --displacement "9 t to 11 t" --deadrise "18 deg" --speeds "24 kn to 33 kn"
      --speed-step "3 kn" --at "33 kn" --least-margin "1.5 deg" --seed 7 --fresh-water)
  example_test(example_design_sweep_power design_sweep EXPECTED "${expected}/design_sweep_power.txt" ARGUMENTS ${sweep})
  # Without gnuplot the tables are there all the same.
  string(REPLACE ";" "|" arguments "-E;env;PATH=;$<TARGET_FILE:design_sweep>;${sweep};--chart;no_such_folder/sweep.svg")
  add_test(NAME example_design_sweep_no_gnuplot
           COMMAND "${CMAKE_COMMAND}" "-Dprogram=${CMAKE_COMMAND}" "-Darguments=${arguments}"
                   "-Dexpected=${expected}/design_sweep_no_gnuplot.txt" -P
                   "${CMAKE_CURRENT_SOURCE_DIR}/check_output.cmake")
  # Ctrl-C: what is done is kept and said. (2e11 combinations take days.)
  find_program(TIMEOUT_PROGRAM timeout)
  mark_as_advanced(TIMEOUT_PROGRAM)
  if(TIMEOUT_PROGRAM)
    add_test(NAME example_design_sweep_interrupted COMMAND "${TIMEOUT_PROGRAM}" --preserve-status -s INT -k 60 1
                                                           $<TARGET_FILE:design_sweep> --combinations 200000000000)
    set_tests_properties(
      example_design_sweep_interrupted
      PROPERTIES PASS_REGULAR_EXPRESSION
                 "Stopped by Ctrl-C: [1-9][0-9,]* of 200,000,000,000 combinations done.*Best at each speed.*licensed naval architect")
  endif()
  foreach(
    refused
    "bare_number|beam|2.6 to 3.8|without a unit"
    "bare_share|lcg|0.34 to 0.46|LCG is \"0.34\" without %"
    "upside_down|deadrise|24 deg to 12 deg|deadrise is \"24 deg to 12 deg\".*lower end first"
    "no_beam|beam|0 m to 3 m|chine beam is 0 m"
    "too_fast|speeds|20 kn to 250 kn|speed is 250 kn"
    "ahead_of_bow|lcg|40 % to 100 %|LCG"
    "no_step|speed-step|0 kn|speed step is \"?0 kn"
    "no_margin|least-margin|-1 deg|least margin is \"?-1 deg"
    "no_combinations|combinations|0|--combinations"
    "unknown_measure|least|money|--least")
    string(REPLACE "|" ";" refused "${refused}")
    list(GET refused 0 name)
    list(GET refused 1 option)
    list(GET refused 2 value)
    list(GET refused 3 says)
    example_test(example_design_sweep_${name} design_sweep REFUSED "${says}" ARGUMENTS "--${option}=${value}")
  endforeach()
endif()
