# The time zones as one archive: zones/<name>, compiled, and windowsZones.xml.
#   cmake -DZIC=<zic> -DTZDATA=<tzdata.zi> -DWINDOWS_ZONES=<windowsZones.xml> -DOUTPUT=<.zip> -P ZoneArchive.cmake
get_filename_component(folder ${OUTPUT} DIRECTORY)
file(REMOVE_RECURSE ${folder}/content)
file(MAKE_DIRECTORY ${folder}/content/zones)
execute_process(COMMAND ${ZIC} -b slim -d ${folder}/content/zones ${TZDATA} COMMAND_ERROR_IS_FATAL ANY)
file(COPY ${WINDOWS_ZONES} DESTINATION ${folder}/content)
execute_process(COMMAND ${CMAKE_COMMAND} -E tar cf ${OUTPUT} --format=zip --mtime=1980-01-01 zones windowsZones.xml
                WORKING_DIRECTORY ${folder}/content COMMAND_ERROR_IS_FATAL ANY)
