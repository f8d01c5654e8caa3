# Where things go when they are installed: program, library, headers, what tells other builds of
# them, manual pages and completions.
include(GNUInstallDirs)
include(CMakePackageConfigHelpers)

set(installed_library libevenrow)
if(BUILD_SHARED_LIBS)
  set(installed_library libevenrow-shared)
endif()
install(TARGETS evenrow RUNTIME DESTINATION ${CMAKE_INSTALL_BINDIR})
install(TARGETS ${installed_library} EXPORT evenrow
        ARCHIVE DESTINATION ${CMAKE_INSTALL_LIBDIR}
        LIBRARY DESTINATION ${CMAKE_INSTALL_LIBDIR}
        INCLUDES DESTINATION ${CMAKE_INSTALL_INCLUDEDIR})
install(DIRECTORY ${PROJECT_SOURCE_DIR}/include/evenrow
        DESTINATION ${CMAKE_INSTALL_INCLUDEDIR} FILES_MATCHING PATTERN "*.h")

# find_package(evenrow)
set(package ${CMAKE_INSTALL_LIBDIR}/cmake/evenrow)
configure_package_config_file(${CMAKE_CURRENT_LIST_DIR}/evenrow-config.cmake.in
                              ${PROJECT_BINARY_DIR}/evenrow-config.cmake
                              INSTALL_DESTINATION ${package} NO_SET_AND_CHECK_MACRO)
write_basic_package_version_file(${PROJECT_BINARY_DIR}/evenrow-config-version.cmake
                                 COMPATIBILITY SameMinorVersion)
install(FILES ${PROJECT_BINARY_DIR}/evenrow-config.cmake
              ${PROJECT_BINARY_DIR}/evenrow-config-version.cmake
              ${CMAKE_CURRENT_LIST_DIR}/evenrow-cjson.cmake
        DESTINATION ${package})
install(EXPORT evenrow NAMESPACE evenrow:: FILE evenrow-targets.cmake DESTINATION ${package})

# pkg-config: a static library's users link what it uses, too.
set(pc_public)
set(pc_private "Requires.private: libcjson\nLibs.private: -pthread -lm")
if(NOT BUILD_SHARED_LIBS)
  set(pc_public " -pthread -lm")
  set(pc_private "Requires: libcjson")
endif()
if(EVENROW_CJSON_FILES) # the library holds cJSON
  string(REGEX REPLACE "Requires[.a-z]*: libcjson\n?" "" pc_private "${pc_private}")
endif()
# Told from its own place, so that the whole may be moved; not where folders lie elsewhere.
set(pc_prefix ${CMAKE_INSTALL_PREFIX})
set(pc_quote "\"") # where pkg-config finds its own place, it quotes that itself
set(pc_libdir ${CMAKE_INSTALL_FULL_LIBDIR})
set(pc_includedir ${CMAKE_INSTALL_FULL_INCLUDEDIR})
if(NOT IS_ABSOLUTE "${CMAKE_INSTALL_LIBDIR}" AND NOT IS_ABSOLUTE "${CMAKE_INSTALL_INCLUDEDIR}")
  file(RELATIVE_PATH up /prefix/${CMAKE_INSTALL_LIBDIR}/pkgconfig /prefix)
  string(REGEX REPLACE "/$" "" up "${up}")
  set(pc_prefix "\${pcfiledir}/${up}")
  set(pc_quote)
  set(pc_libdir "\${prefix}/${CMAKE_INSTALL_LIBDIR}")
  set(pc_includedir "\${prefix}/${CMAKE_INSTALL_INCLUDEDIR}")
endif()
configure_file(${CMAKE_CURRENT_LIST_DIR}/evenrow.pc.in ${PROJECT_BINARY_DIR}/evenrow.pc @ONLY)
install(FILES ${PROJECT_BINARY_DIR}/evenrow.pc DESTINATION ${CMAKE_INSTALL_LIBDIR}/pkgconfig)

install(FILES ${pages}/evenrow.1 DESTINATION ${CMAKE_INSTALL_MANDIR}/man1)
install(FILES ${pages}/evenrow-field.5 DESTINATION ${CMAKE_INSTALL_MANDIR}/man5)
install(FILES ${pages}/evenrow.bash RENAME evenrow
        DESTINATION ${CMAKE_INSTALL_DATADIR}/bash-completion/completions)
install(FILES ${pages}/_evenrow DESTINATION ${CMAKE_INSTALL_DATADIR}/zsh/site-functions)
install(FILES ${pages}/evenrow.fish
        DESTINATION ${CMAKE_INSTALL_DATADIR}/fish/vendor_completions.d)
