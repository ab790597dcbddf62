# Joins the page's parts: cmake -D FROM=<report/page> -D TO=<folder> -P join_page.cmake
# page.html and watch.html are as they stand. page.css is every style sheet in order of name. page.js is every module in one scope: their imports of each other
# fall away, and start() of main.mjs is called at the end. No name may be declared twice (tests/browser checks that).
file(MAKE_DIRECTORY ${TO})
foreach(frame page watch)
  file(READ ${FROM}/${frame}.html text)
  file(WRITE ${TO}/${frame}.html "${text}")
endforeach()

file(GLOB sheets ${FROM}/*.css)
list(SORT sheets)
set(style "")
foreach(sheet IN LISTS sheets)
  file(READ ${sheet} text)
  string(APPEND style "${text}")
endforeach()
file(WRITE ${TO}/page.css "${style}")

file(GLOB modules ${FROM}/*.mjs)
list(SORT modules)
set(script "(() => {\n\"use strict\";\n")
foreach(module IN LISTS modules)
  file(READ ${module} text)
  string(REGEX REPLACE "(^|\n)import [^;]*;" "\\1" text "${text}")
  string(REGEX REPLACE "(^|\n)export " "\\1" text "${text}")
  string(APPEND script "${text}\n")
endforeach()
string(APPEND script "start();\n})();\n")
file(WRITE ${TO}/page.js "${script}")
