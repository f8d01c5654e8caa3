# Finds cJSON and makes the target evenrow::cjson of it; without cJSON there is no such target.
# Used by the build, and by the installed package where the library is static.
#
# With EVENROW_CJSON_SOURCE, cJSON is compiled from that folder instead, and EVENROW_CJSON_FILES is
# what the library is to hold of it.
if(EVENROW_CJSON_SOURCE)
  if(NOT EXISTS ${EVENROW_CJSON_SOURCE}/cJSON.c)
    message(FATAL_ERROR "There is no cJSON.c in ${EVENROW_CJSON_SOURCE}")
  endif()
  set(EVENROW_CJSON_FILES ${EVENROW_CJSON_SOURCE}/cJSON.c)
  # Not ours to mend, and not to be held to our warnings.
  set_source_files_properties(${EVENROW_CJSON_FILES} PROPERTIES COMPILE_OPTIONS -w)
  configure_file(${EVENROW_CJSON_SOURCE}/cJSON.h ${PROJECT_BINARY_DIR}/cjson/cjson/cJSON.h COPYONLY)
  set(CJSON_INCLUDE ${PROJECT_BINARY_DIR}/cjson)
  set(CJSON_LIBRARY)
else()
  find_path(CJSON_INCLUDE cjson/cJSON.h)
  find_library(CJSON_LIBRARY cjson)
endif()
if(CJSON_INCLUDE AND (CJSON_LIBRARY OR EVENROW_CJSON_FILES) AND NOT TARGET evenrow::cjson)
  add_library(evenrow::cjson INTERFACE IMPORTED)
  set_target_properties(evenrow::cjson PROPERTIES INTERFACE_INCLUDE_DIRECTORIES ${CJSON_INCLUDE}
                                                  INTERFACE_LINK_LIBRARIES "${CJSON_LIBRARY}")
endif()
