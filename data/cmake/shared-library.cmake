# The shared library, of the same objects as the static one. It exports what the public headers
# declare, and nothing else.
set_target_properties(libevenrow PROPERTIES POSITION_INDEPENDENT_CODE ON)

file(GLOB headers CONFIGURE_DEPENDS ${PROJECT_SOURCE_DIR}/include/evenrow/*.h)
set(public)
foreach(header IN LISTS headers)
  set_property(DIRECTORY APPEND PROPERTY CMAKE_CONFIGURE_DEPENDS ${header})
  file(READ ${header} text)
  string(REGEX REPLACE "/\\*[^*]*\\*+([^/*][^*]*\\*+)*/" "" text "${text}") # comments
  string(REGEX MATCHALL "[ *]er_[a-z0-9_]+\\(" found "${text}")
  list(APPEND public ${found})
endforeach()
list(TRANSFORM public REPLACE "^[ *](er_[a-z0-9_]+).*" "\\1")
list(REMOVE_DUPLICATES public)
list(SORT public)

# Before 1.0 each minor version may change what is exported.
set(interface_version ${PROJECT_VERSION_MAJOR}.${PROJECT_VERSION_MINOR})
string(REPLACE ";" ";\n    " lines "${public}")
set(map ${PROJECT_BINARY_DIR}/evenrow.map)
file(WRITE ${map} "EVENROW_${interface_version} {\n  global:\n    ${lines};\n  local:\n    *;\n};\n")

add_library(libevenrow-shared SHARED $<TARGET_OBJECTS:libevenrow>)
set_target_properties(libevenrow-shared PROPERTIES OUTPUT_NAME evenrow EXPORT_NAME evenrow
                      VERSION ${PROJECT_VERSION} SOVERSION ${interface_version}
                      LINK_DEPENDS ${map} LINKER_LANGUAGE C)
target_link_libraries(libevenrow-shared PRIVATE evenrow::cjson Threads::Threads m)
include(CheckCSourceCompiles)
set(CMAKE_REQUIRED_LINK_OPTIONS -Wl,--version-script=${map})
check_c_source_compiles("int main(void) { return 0; }" EVENROW_HAS_VERSION_SCRIPTS)
unset(CMAKE_REQUIRED_LINK_OPTIONS)
if(EVENROW_HAS_VERSION_SCRIPTS) # elsewhere everything is exported
  target_link_options(libevenrow-shared PRIVATE -Wl,--version-script=${map} -Wl,--no-undefined)
endif()
