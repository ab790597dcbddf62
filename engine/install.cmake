# The library for other programs: headers, the rooms' static libraries, and what find_package(boughlight) reads.

add_library(boughlight_boughlight INTERFACE)
target_link_libraries(boughlight_boughlight INTERFACE boughlight_report)

set(boughlight_rooms units spectrum scene geometry transport assess plan report)
set(boughlight_exported boughlight_options boughlight_boughlight)
foreach(room IN LISTS boughlight_rooms)
  list(APPEND boughlight_exported boughlight_${room})
endforeach()
foreach(target IN LISTS boughlight_exported)
  string(REPLACE boughlight_ "" short ${target})
  set_target_properties(${target} PROPERTIES EXPORT_NAME ${short})
endforeach()
install(TARGETS ${boughlight_exported} EXPORT boughlightTargets
  ARCHIVE DESTINATION ${CMAKE_INSTALL_LIBDIR} COMPONENT development)

# boughlight.h and every header that it leads to, found by following its includes.
set(waiting boughlight.h)
set(headers)
while(waiting)
  list(POP_FRONT waiting header)
  if(header IN_LIST headers)
    continue()
  endif()
  list(APPEND headers ${header})
  set_property(DIRECTORY APPEND PROPERTY CMAKE_CONFIGURE_DEPENDS ${CMAKE_CURRENT_SOURCE_DIR}/${header})
  file(STRINGS ${header} lines REGEX "^#include \"")
  foreach(line IN LISTS lines)
    string(REGEX REPLACE "^#include \"(.*)\".*" "\\1" included "${line}")
    list(APPEND waiting ${included})
  endforeach()
endwhile()
foreach(header IN LISTS headers)
  get_filename_component(folder ${header} DIRECTORY)
  install(FILES ${header} DESTINATION ${CMAKE_INSTALL_INCLUDEDIR}/boughlight/${folder} COMPONENT development)
endforeach()

include(CMakePackageConfigHelpers)
set(BOUGHLIGHT_INSTALL_FIXTURES ${CMAKE_INSTALL_DATADIR}/boughlight/fixtures)
string(REGEX MATCH "^[0-9]+" BOUGHLIGHT_EMBREE_MAJOR "${embree_VERSION}")
set(package_folder ${CMAKE_INSTALL_LIBDIR}/cmake/boughlight)
configure_package_config_file(boughlightConfig.cmake.in ${CMAKE_CURRENT_BINARY_DIR}/boughlightConfig.cmake
  INSTALL_DESTINATION ${package_folder}
  PATH_VARS BOUGHLIGHT_INSTALL_FIXTURES)
write_basic_package_version_file(${CMAKE_CURRENT_BINARY_DIR}/boughlightConfigVersion.cmake
  COMPATIBILITY SameMinorVersion)
install(FILES ${CMAKE_CURRENT_BINARY_DIR}/boughlightConfig.cmake
  ${CMAKE_CURRENT_BINARY_DIR}/boughlightConfigVersion.cmake
  DESTINATION ${package_folder} COMPONENT development)
install(EXPORT boughlightTargets NAMESPACE boughlight:: DESTINATION ${package_folder} COMPONENT development)
