# What JUCE's helper writes about the LV2, put right against the specification (lv2_validate of package lv2-dev finds
# nothing then): e-mail and homepage that were not given would name the file itself, a plugin with releases is a project,
# properties of ports stand at parameters and features among interfaces, and the preset's property is defined nowhere.
#   cmake -DBUNDLE=<the .lv2 folder> -P Lv2Metadata.cmake
foreach(name manifest dsp ui)
    if(NOT EXISTS "${BUNDLE}/${name}.ttl")
        message(FATAL_ERROR "JUCE's helper wrote no ${name}.ttl in ${BUNDLE}.")
    endif()
    file(READ "${BUNDLE}/${name}.ttl" ${name})
endforeach()

string(REGEX REPLACE "\t\tfoaf:(homepage|mbox) <> ;\n" "" dsp "${dsp}")
string(REPLACE "\ta lv2:Plugin ;\n\tdoap:name" "\ta lv2:Plugin , doap:Project ;\n\tdoap:name" dsp "${dsp}")
# A parameter's lines begin with one tab, a port's with two.
string(REGEX REPLACE "\n\tlv2:portProperty [^;]*;" "" dsp "${dsp}")
string(REPLACE "\t\topts:interface ,\n\t\tui:noUserResize ,\n" "\t\topts:interface ,\n" ui "${ui}")
string(REPLACE " ,\n\t\topts:interface ,\n\t\topts:options" " ,\n\t\topts:options" ui "${ui}")
string(REGEX MATCH "<[^>]*:Program>" property "${manifest}")
if(property AND NOT manifest MATCHES "rdfs:label \"program\"")
    string(APPEND manifest "${property}\n\ta <http://www.w3.org/1999/02/22-rdf-syntax-ns#Property> ,\n"
                           "\t\t<http://www.w3.org/2002/07/owl#DatatypeProperty> ;\n"
                           "\trdfs:label \"program\" ;\n\trdfs:range xsd:int .\n")
endif()

if(dsp MATCHES "<> ;" OR NOT dsp MATCHES "doap:Project")
    message(FATAL_ERROR "JUCE writes the LV2's description in another way than cmake/Lv2Metadata.cmake knows: see "
                        "${BUNDLE}/dsp.ttl, and change the one to the other.")
endif()
foreach(name manifest dsp ui)
    file(WRITE "${BUNDLE}/${name}.ttl" "${${name}}")
endforeach()
