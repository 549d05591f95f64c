# A page of the handbook from Markdown to HTML: links between pages and to pictures follow.
#   cmake -DCMARK=<cmark-gfm> -DINPUT=<.md> -DTEMPLATE=<page.html.in> -DOUTPUT=<.html> -P HandbookPage.cmake
execute_process(COMMAND ${CMARK} --extension table --smart ${INPUT} OUTPUT_VARIABLE body COMMAND_ERROR_IS_FATAL ANY)
string(REGEX REPLACE "(href=\"[A-Za-z0-9-]+)\\.md([\"#])" "\\1.html\\2" body "${body}")
string(REPLACE "src=\"../pictures/" "src=\"pictures/" body "${body}")
string(REGEX MATCH "<h1>([^\n]*)</h1>" heading "${body}")
if(NOT heading)
    message(FATAL_ERROR "${INPUT} has no heading of its own ('# ...' in its first line).")
endif()
set(title "${CMAKE_MATCH_1}")
configure_file(${TEMPLATE} ${OUTPUT} @ONLY)
