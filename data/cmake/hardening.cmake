# What a slip in the program may do, should there be one after all, is kept small: bounds checks
# in libc's calls, a canary in each frame with a buffer, addresses that nobody knows before, and
# tables of functions that nothing writes to. tests/install/hardened.sh reads it back.
if(NOT EVENROW_SANITIZE)
  include(CheckCCompilerFlag)
  include(CheckPIESupported)
  check_pie_supported(LANGUAGES C)
  set(CMAKE_POSITION_INDEPENDENT_CODE ON)
  foreach(flag -fstack-protector-strong -fstack-clash-protection)
    string(MAKE_C_IDENTIFIER "EVENROW_HAS${flag}" has)
    check_c_compiler_flag(${flag} ${has})
    if(${has})
      add_compile_options(${flag})
    endif()
  endforeach()
  # It wants optimization; some systems set it themselves, to another level.
  add_compile_options($<$<CONFIG:Release,RelWithDebInfo,MinSizeRel>:-U_FORTIFY_SOURCE>
                      $<$<CONFIG:Release,RelWithDebInfo,MinSizeRel>:-D_FORTIFY_SOURCE=2>)
  set(CMAKE_REQUIRED_LINK_OPTIONS -Wl,-z,relro,-z,now)
  include(CheckCSourceCompiles)
  check_c_source_compiles("int main(void) { return 0; }" EVENROW_HAS_RELRO)
  unset(CMAKE_REQUIRED_LINK_OPTIONS)
  if(EVENROW_HAS_RELRO)
    add_link_options(-Wl,-z,relro,-z,now)
  endif()
  # A frame that could step over the stack's guard page is an accident waiting.
  check_c_compiler_flag(-Wframe-larger-than=16384 EVENROW_HAS_FRAME_LIMIT)
  if(EVENROW_HAS_FRAME_LIMIT)
    add_compile_options(-Wframe-larger-than=16384)
  endif()
endif()
