#pragma once

#include "Host/HostRig.h"
#include "Plugin/TimeReport.h"

#include <lv2/atom/atom.h>
#include <lv2/core/lv2.h>
#include <lv2/urid/urid.h>

#include <cstdint>
#include <functional>
#include <map>
#include <memory>
#include <string>
#include <vector>

namespace valveladder::host {

/// A bare LV2 host for the built plugin: says of the position just what a test wants it to say, as no hosting
/// library does.
class Lv2Rig {
public:
    /// nullptr with the reason in `error`.
    static std::unique_ptr<Lv2Rig> load(double sampleRate, int maxSamples, std::string& error);
    ~Lv2Rig();
    Lv2Rig(const Lv2Rig&) = delete;
    Lv2Rig& operator=(const Lv2Rig&) = delete;

    /// Room that the host gives for outgoing events, bytes after the atom's head.
    std::uint32_t outRoom = 8192;
    /// False: the ports of events and sound have never been given a place.
    bool portsGiven = true;
    /// Calls what runs a block: for whoever watches it.
    std::function<void(const std::function<void()>&)> aroundRun = [](const auto& run) { run(); };
    /// A value for one of the plugin's parameters, sent with the next block.
    void set(const std::string& parameter, float value) { wanted[parameter] = value; }

    /// One block, with these reports and MIDI (at sample 0).
    void run(int samples, const std::vector<TimeReport>& reports, const std::vector<MidiEvent>& midi = {});

    [[nodiscard]] const std::vector<Sent>& sent() const { return messages; }
    [[nodiscard]] std::int64_t samplesRun() const { return done; }
    [[nodiscard]] const LV2_Descriptor& plugin() const { return *descriptor; }
    [[nodiscard]] LV2_Handle handle() const { return instance; }
    [[nodiscard]] LV2_URID id(const char* uri);

private:
    Lv2Rig() = default;
    void writeInput(const std::vector<TimeReport>& reports, const std::vector<MidiEvent>& midi);
    void readOutput();

    static LV2_URID mapUri(LV2_URID_Map_Handle self, const char* uri);

    std::map<std::string, LV2_URID> ids;
    LV2_URID_Map map{this, mapUri};
    void* library = nullptr;
    const LV2_Descriptor* descriptor = nullptr;
    LV2_Handle instance = nullptr;
    std::vector<float> sound;
    std::vector<std::uint64_t> in, out;
    std::map<std::string, float> wanted;
    std::vector<Sent> messages;
    std::int64_t done = 0;
};

} // namespace valveladder::host
