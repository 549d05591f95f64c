#include "Words/ReportWords.h"

namespace valveladder {

const char* inWords(ReportKind kind) {
    switch (kind) {
    case ReportKind::wrong:
        return "a wrong note";
    case ReportKind::missed:
        return "missed";
    case ReportKind::split:
        return "split";
    case ReportKind::cracked:
        return "cracked";
    case ReportKind::breath:
        return "after a breath";
    case ReportKind::valves:
        return "with other valves";
    case ReportKind::extra:
        return "with a note beside it";
    }
    return "";
}

} // namespace valveladder
