# Manual pages and completions: each is a frame in data/pages whose @PART@s evenrow-pages fills in
# from the tables that the program itself works by.
file(GLOB sources CONFIGURE_DEPENDS ${PROJECT_SOURCE_DIR}/src/pages/*.c)
add_executable(evenrow-pages ${sources})
target_compile_definitions(evenrow-pages PRIVATE EVENROW_VERSION="${PROJECT_VERSION}")
target_link_libraries(evenrow-pages PRIVATE evenrow-cli)

set(pages ${PROJECT_BINARY_DIR}/pages)
file(MAKE_DIRECTORY ${pages})
set(made)
foreach(page IN ITEMS evenrow.1 evenrow-field.5 evenrow.bash _evenrow evenrow.fish)
  set(frame ${PROJECT_SOURCE_DIR}/data/pages/${page}.in)
  add_custom_command(OUTPUT ${pages}/${page}
                     COMMAND evenrow-pages ${frame} ${pages}/${page}
                     DEPENDS evenrow-pages ${frame}
                     COMMENT "Making ${page}" VERBATIM)
  list(APPEND made ${pages}/${page})
endforeach()
add_custom_target(pages ALL DEPENDS ${made})
