#pragma once

#include "Screen/Theme.h"

namespace valveladder {

/// How every control of the window is drawn: flat, one accent, focus always seen.
class Look final : public juce::LookAndFeel_V4 {
public:
    explicit Look(const Theme& theme = Theme::dark());

    /// A button that is a word in the bar: no capsule, and brass under it where one is.
    static void makeTab(juce::Button& button);

    /// A label in large letters, for what is to be seen at a glance.
    static void makeLead(juce::Label& label);

    /// Components repaint themselves when their parent sends a look-and-feel change.
    void setTheme(const Theme& theme);
    [[nodiscard]] const Theme& theme() const { return *used; }

    /// The theme of the window that a component is in; dark where there is none.
    [[nodiscard]] static const Theme& themeOf(const juce::Component& component);

    /// The ring around what has the keyboard's focus: one for everything.
    static void drawFocus(juce::Graphics& g, juce::Rectangle<float> area, const Theme& theme);

    juce::Typeface::Ptr getTypefaceForFont(const juce::Font& font) override;
    void drawButtonBackground(juce::Graphics& g, juce::Button& button, const juce::Colour& background,
                              bool highlighted, bool down) override;
    void drawButtonText(juce::Graphics& g, juce::TextButton& button, bool highlighted, bool down) override;
    void drawToggleButton(juce::Graphics& g, juce::ToggleButton& button, bool highlighted,
                          bool down) override;
    void drawComboBox(juce::Graphics& g, int width, int height, bool down, int buttonX, int buttonY,
                      int buttonW, int buttonH, juce::ComboBox& box) override;
    void positionComboBoxText(juce::ComboBox& box, juce::Label& label) override;
    void drawComboBoxTextWhenNothingSelected(juce::Graphics& g, juce::ComboBox& box,
                                             juce::Label& label) override;
    juce::Font getComboBoxFont(juce::ComboBox& box) override;
    juce::Font getLabelFont(juce::Label& label) override;
    void drawLabel(juce::Graphics& g, juce::Label& label) override;
    juce::Font getPopupMenuFont() override;
    void getIdealPopupMenuItemSize(const juce::String& text, bool separator, int height, int& idealWidth,
                                   int& idealHeight) override;
    void drawPopupMenuItem(juce::Graphics& g, const juce::Rectangle<int>& area, bool separator, bool active,
                           bool highlighted, bool ticked, bool hasSubMenu, const juce::String& text,
                           const juce::String& shortcut, const juce::Drawable* icon,
                           const juce::Colour* textColour) override;
    juce::Rectangle<int> getTooltipBounds(const juce::String& text, juce::Point<int> pointer,
                                          juce::Rectangle<int> within) override;
    void drawTooltip(juce::Graphics& g, const juce::String& text, int width, int height) override;
    juce::Font getTextButtonFont(juce::TextButton& button, int height) override;
    void fillTextEditorBackground(juce::Graphics& g, int width, int height,
                                  juce::TextEditor& editor) override;
    void drawTextEditorOutline(juce::Graphics& g, int width, int height, juce::TextEditor& editor) override;
    juce::Button* createSliderButton(juce::Slider& slider, bool increment) override;

private:
    void setColours();
    void drawTab(juce::Graphics& g, const juce::Button& button, bool touched) const;

    const Theme* used;
};

} // namespace valveladder
