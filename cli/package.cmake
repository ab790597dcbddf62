# Debian packages of what is built: `cpack -G DEB` in the build folder makes boughlight_*.deb, the program, and
# boughlight-dev_*.deb, the library. For other machines build with -DBOUGHLIGHT_NATIVE=OFF.
set(CPACK_GENERATOR DEB)
set(CPACK_PACKAGE_NAME boughlight)
set(CPACK_PACKAGE_VENDOR "Boughlight contributors")
set(CPACK_PACKAGE_CONTACT "Boughlight contributors")
set(CPACK_PACKAGE_VERSION ${PROJECT_VERSION})
set(CPACK_PACKAGING_INSTALL_PREFIX /usr)
set(CPACK_PACKAGE_DESCRIPTION_SUMMARY "light and ultraviolet in an enclosure, before a lamp is hung")
set(CPACK_STRIP_FILES ON)
set(CPACK_COMPONENTS_ALL program development)
set(CPACK_DEB_COMPONENT_INSTALL ON)
set(CPACK_DEBIAN_FILE_NAME DEB-DEFAULT)

set(native_note "")
if(BOUGHLIGHT_NATIVE)
  set(native_note "

Built for the processor of the machine that built it; on another type it may
not run.")
endif()
set(CPACK_DEBIAN_PROGRAM_PACKAGE_NAME boughlight)
set(CPACK_DEBIAN_PROGRAM_PACKAGE_SECTION science)
set(CPACK_DEBIAN_PROGRAM_PACKAGE_SHLIBDEPS ON)
set(CPACK_COMPONENT_PROGRAM_DESCRIPTION
"Takes a description of a tall, planted, screen-topped enclosure for an animal
that lives in branches, traces the light from 250 nm to 25 um through mesh,
glass and leaves, and says what UV index, heat and plant light will be where,
with errors, maps and cautions. Its figures are estimates: a meter decides.${native_note}")
set(CPACK_DEBIAN_DEVELOPMENT_PACKAGE_NAME boughlight-dev)
set(CPACK_DEBIAN_DEVELOPMENT_PACKAGE_SECTION libdevel)
set(CPACK_DEBIAN_DEVELOPMENT_PACKAGE_DEPENDS "boughlight (= ${PROJECT_VERSION}), libeigen3-dev, libembree-dev, \
libtbb-dev, libyaml-cpp-dev, libtinyobjloader-dev, libfmt-dev, nlohmann-json3-dev, libpugixml-dev, libnlopt-dev, \
libnlopt-cxx-dev")
set(CPACK_COMPONENT_DEVELOPMENT_DESCRIPTION
"Headers, static libraries and CMake package, for programs that load scenes,
trace their light and assess it.${native_note}")
include(CPack)
