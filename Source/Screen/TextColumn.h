#pragma once

#include <juce_gui_basics/juce_gui_basics.h>

#include <string>
#include <vector>

namespace valveladder {

/// Paragraphs to read, under a heading, each with a mark in the margin; scrolls where they do not fit.
class TextColumn final : public juce::Component {
public:
    explicit TextColumn(const juce::String& heading);

    void show(const std::vector<std::string>& paragraphs, const juce::String& whenEmpty);

    /// With as many whole paragraphs, the first ones, as are no higher than `most` at that width; 0 where not
    /// even one is.
    [[nodiscard]] int heightWithin(int width, int most) const;

    void paint(juce::Graphics& g) override;
    void resized() override;
    void lookAndFeelChanged() override;

private:
    juce::String title;
    juce::String shown;
    juce::TextEditor text;
};

} // namespace valveladder
