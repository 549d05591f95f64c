// The LV2 that hosts load: JUCE's own with a reader of the host's position before it, since JUCE's passes on
// neither the beat within the bar nor the sample that a report speaks of, and a writer after it, since JUCE's
// needs more room than some hosts give. JUCE's two entry points are renamed when its source is compiled (see
// cmake/Lv2.cmake); here they are called.

#include "Plugin/Entry.h"
#include "Plugin/Lv2Out.h"
#include "Plugin/Lv2Time.h"
#include "Plugin/Processor.h"

#include <lv2/atom/atom.h>
#include <lv2/core/lv2.h>
#include <lv2/instance-access/instance-access.h>
#include <lv2/state/state.h>
#include <lv2/ui/ui.h>

#include <algorithm>
#include <array>
#include <memory>
#include <mutex>
#include <string_view>
#include <vector>

extern "C" {
const LV2_Descriptor* valveladder_juce_lv2_descriptor(uint32_t index);
const LV2UI_Descriptor* valveladder_juce_lv2ui_descriptor(uint32_t index);
}

namespace valveladder {

namespace {

/// JUCE's ports of events, in and out, come after two channels in and two out.
constexpr std::uint32_t audioPorts = 4, eventsIn = 4, eventsOut = 5;
constexpr const char* manifestWriter = "https://lv2-extensions.juce.com/turtle_recall";

const LV2_Descriptor& inner() {
    static const LV2_Descriptor* const descriptor = valveladder_juce_lv2_descriptor(0);
    return *descriptor;
}

/// What the host takes for the plugin.
struct Instance {
    LV2_Handle juce = nullptr;
    Processor* processor = nullptr; ///< owned by JUCE's
    Lv2Time time;
    Lv2Out out;
    const LV2_Atom_Sequence* in = nullptr; ///< the host's
    LV2_Atom_Sequence* hostsOut = nullptr;
    std::array<bool, audioPorts> connected{};

    Instance(const LV2_URID_Map& map) : time(map) {}
};

Instance& of(LV2_Handle handle) {
    return *static_cast<Instance*>(handle);
}

const LV2_URID_Map* mapOf(const LV2_Feature* const* features) {
    for (; features != nullptr && *features != nullptr; ++features)
        if (std::string_view((*features)->URI) == LV2_URID__map)
            return static_cast<const LV2_URID_Map*>((*features)->data);
    return nullptr;
}

/// Hosts may make and end instances on several threads; JUCE starts its own with the first and ends them with
/// the last, and counts without a lock.
std::mutex& makingAndEnding() {
    static std::mutex mutex;
    return mutex;
}

LV2_Handle instantiate(const LV2_Descriptor*, double rate, const char* bundle,
                       const LV2_Feature* const* features) {
    const LV2_URID_Map* map = mapOf(features);
    if (map == nullptr)
        return nullptr;
    const std::lock_guard lock(makingAndEnding());
    auto instance = std::make_unique<Instance>(*map);
    lastMadeHere() = nullptr;
    instance->juce = inner().instantiate(&inner(), rate, bundle, features);
    instance->processor = lastMadeHere();
    return instance->juce != nullptr ? instance.release() : nullptr;
}

void connectPort(LV2_Handle handle, std::uint32_t port, void* data) {
    Instance& instance = of(handle);
    if (port < audioPorts)
        instance.connected[port] = data != nullptr;
    else if (port == eventsIn)
        instance.in = static_cast<const LV2_Atom_Sequence*>(data);
    else if (port == eventsOut)
        instance.hostsOut = static_cast<LV2_Atom_Sequence*>(data);
    if (port != eventsOut)
        inner().connect_port(instance.juce, port, data);
}

void run(LV2_Handle handle, std::uint32_t samples) {
    Instance& instance = of(handle);
    if (std::find(instance.connected.begin(), instance.connected.end(), false) != instance.connected.end())
        return; // JUCE's would read and write at null
    if (instance.processor != nullptr)
        instance.processor->tellTime(instance.time.read(instance.in));
    inner().connect_port(instance.juce, eventsOut, instance.out.scratch());
    inner().run(instance.juce, samples);
    instance.out.passOn(instance.hostsOut);
}

void cleanUp(LV2_Handle handle) {
    const std::lock_guard lock(makingAndEnding());
    // JUCE's lets go of the parameters' listeners before the processor: its timer may set no parameter any
    // more.
    if (Processor* processor = of(handle).processor; processor != nullptr)
        processor->leaveTimer();
    inner().cleanup(of(handle).juce);
    delete &of(handle);
}

const LV2_State_Interface& innerState() {
    return *static_cast<const LV2_State_Interface*>(inner().extension_data(LV2_STATE__interface));
}

const void* extensionData(const char* uri) {
    static const LV2_State_Interface state{
        [](LV2_Handle handle, LV2_State_Store_Function store, LV2_State_Handle to, std::uint32_t flags,
           const LV2_Feature* const* features) {
            return innerState().save(of(handle).juce, store, to, flags, features);
        },
        [](LV2_Handle handle, LV2_State_Retrieve_Function retrieve, LV2_State_Handle from,
           std::uint32_t flags, const LV2_Feature* const* features) {
            return innerState().restore(of(handle).juce, retrieve, from, flags, features);
        }};
    if (std::string_view(uri) == LV2_STATE__interface)
        return &state;
    // Any other interface would be called with our handle, not JUCE's.
    return std::string_view(uri) == manifestWriter ? inner().extension_data(uri) : nullptr;
}

const LV2UI_Descriptor& innerWindow() {
    static const LV2UI_Descriptor* const descriptor = valveladder_juce_lv2ui_descriptor(0);
    return *descriptor;
}

/// The window is JUCE's, and wants JUCE's instance.
LV2UI_Handle openWindow(const LV2UI_Descriptor*, const char* plugin, const char* bundle,
                        LV2UI_Write_Function write, LV2UI_Controller controller, LV2UI_Widget* widget,
                        const LV2_Feature* const* features) {
    std::vector<LV2_Feature> own;
    for (; features != nullptr && *features != nullptr; ++features) {
        own.push_back(**features);
        if (std::string_view(own.back().URI) == LV2_INSTANCE_ACCESS_URI && own.back().data != nullptr)
            own.back().data = of(own.back().data).juce;
    }
    std::vector<const LV2_Feature*> list;
    for (const LV2_Feature& feature : own)
        list.push_back(&feature);
    list.push_back(nullptr);
    return innerWindow().instantiate(&innerWindow(), plugin, bundle, write, controller, widget, list.data());
}

} // namespace

} // namespace valveladder

LV2_SYMBOL_EXPORT const LV2_Descriptor* lv2_descriptor(uint32_t index) {
    using namespace valveladder;
    static const LV2_Descriptor descriptor{
        inner().URI, instantiate,
        connectPort, [](LV2_Handle handle) { inner().activate(of(handle).juce); },
        run,         [](LV2_Handle handle) { inner().deactivate(of(handle).juce); },
        cleanUp,     extensionData};
    return index == 0 ? &descriptor : nullptr;
}

LV2_SYMBOL_EXPORT const LV2UI_Descriptor* lv2ui_descriptor(uint32_t index) {
    using namespace valveladder;
    static const LV2UI_Descriptor descriptor{innerWindow().URI, openWindow, innerWindow().cleanup,
                                             innerWindow().port_event, innerWindow().extension_data};
    return index == 0 ? &descriptor : nullptr;
}
