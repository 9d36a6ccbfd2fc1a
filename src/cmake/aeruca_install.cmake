# Headers, static library and the package files that find_package(aeruca) reads.
include(GNUInstallDirs)
include(CMakePackageConfigHelpers)
install(TARGETS aeruca EXPORT aeruca_targets ARCHIVE DESTINATION ${CMAKE_INSTALL_LIBDIR} COMPONENT dev)
install(DIRECTORY "${PROJECT_SOURCE_DIR}/include/aeruca" DESTINATION ${CMAKE_INSTALL_INCLUDEDIR} COMPONENT dev)
if(AERUCA_CLI)
  install(TARGETS aeruca_tool RUNTIME DESTINATION ${CMAKE_INSTALL_BINDIR} COMPONENT tool)
endif()
set(package_dir "${CMAKE_INSTALL_LIBDIR}/cmake/aeruca")
install(EXPORT aeruca_targets NAMESPACE aeruca:: DESTINATION ${package_dir} COMPONENT dev)
configure_package_config_file("${CMAKE_CURRENT_LIST_DIR}/aeruca-config.cmake.in"
  "${PROJECT_BINARY_DIR}/aeruca-config.cmake" INSTALL_DESTINATION ${package_dir})
write_basic_package_version_file("${PROJECT_BINARY_DIR}/aeruca-config-version.cmake"
  COMPATIBILITY SameMinorVersion)
install(FILES "${PROJECT_BINARY_DIR}/aeruca-config.cmake"
  "${PROJECT_BINARY_DIR}/aeruca-config-version.cmake" DESTINATION ${package_dir} COMPONENT dev)
