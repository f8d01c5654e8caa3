# Finds cJSON and makes the target evenrow::cjson of it; without cJSON there is no such target.
# Used by the build, and by the installed package where the library is static.
find_path(CJSON_INCLUDE cjson/cJSON.h)
find_library(CJSON_LIBRARY cjson)
if(CJSON_INCLUDE AND CJSON_LIBRARY AND NOT TARGET evenrow::cjson)
  add_library(evenrow::cjson INTERFACE IMPORTED)
  set_target_properties(evenrow::cjson PROPERTIES INTERFACE_INCLUDE_DIRECTORIES ${CJSON_INCLUDE}
                                                  INTERFACE_LINK_LIBRARIES ${CJSON_LIBRARY})
endif()
