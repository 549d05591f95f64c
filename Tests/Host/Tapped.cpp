#include "Host/Tapped.h"

#include <fstream>
#include <locale>

namespace valveladder::host {

std::filesystem::path tapFolder() {
    return VALVE_LADDER_TEST_LV2;
}

std::vector<Tapped> tappedNotes(const std::filesystem::path& path, int channel) {
    std::vector<Tapped> notes;
    std::ifstream file(path);
    file.imbue(std::locale::classic());
    Tapped note;
    int status = 0, velocity = 0;
    while (file >> note.frame >> note.offset >> note.blockSamples >> status >> note.pitch >> velocity)
        if ((status & 0xF0) == 0x90 && velocity > 0 && (status & 0x0F) + 1 == channel)
            notes.push_back(note);
    return notes;
}

} // namespace valveladder::host
