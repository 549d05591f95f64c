#include "View/SmoothClock.h"

#include "Base/Units.h"

#include <algorithm>

namespace valveladder {

double SmoothClock::at(double reportedPpq, double bpm, double seconds) {
    const bool fresh = !last || reportedPpq < last->ppq || reportedPpq > last->ppq;
    if (fresh) {
        const bool follows =
            last && reportedPpq > last->ppq && reportedPpq - shown > -0.25 && reportedPpq - shown < 0.25;
        // A report slightly behind what was shown must not make the line step back.
        shown = follows ? std::max(shown, reportedPpq) : reportedPpq;
        last = Report{reportedPpq, seconds};
        return shown;
    }
    const double since = std::clamp(seconds - last->seconds, 0.0, farthestSeconds);
    shown = std::max(shown, reportedPpq + since * bpm / secondsPerMinute);
    return shown;
}

} // namespace valveladder
