#pragma once

#include "Screen/Type.h"

#include <juce_gui_basics/juce_gui_basics.h>

#include <cstdint>
#include <memory>
#include <string>
#include <vector>

namespace valveladder {

/// Draws into SVG 1.1 instead of pixels: shapes as paths, letters as their outlines, pictures as embedded
/// PNG. Clips are kept as clip paths.
class SvgContext : public juce::LowLevelGraphicsContext {
public:
    SvgContext(int width, int height);

    /// The finished document.
    [[nodiscard]] juce::String document() const;

    bool isVectorDevice() const override { return true; }
    void setOrigin(juce::Point<int> origin) override;
    void addTransform(const juce::AffineTransform& transform) override;
    bool clipToRectangle(const juce::Rectangle<int>& area) override;
    bool clipToRectangleList(const juce::RectangleList<int>& areas) override;
    void excludeClipRectangle(const juce::Rectangle<int>& area) override;
    void clipToPath(const juce::Path& path, const juce::AffineTransform& transform) override;
    void clipToImageAlpha(const juce::Image& image, const juce::AffineTransform& transform) override;
    bool clipRegionIntersects(const juce::Rectangle<int>& area) override;
    juce::Rectangle<int> getClipBounds() const override;
    bool isClipEmpty() const override;
    void saveState() override;
    void restoreState() override;
    void beginTransparencyLayer(float opacity) override;
    void endTransparencyLayer() override;
    void setFill(const juce::FillType& fill) override;
    void setOpacity(float opacity) override;
    void setInterpolationQuality(juce::Graphics::ResamplingQuality) override {}
    void fillRect(const juce::Rectangle<int>& area, bool replace) override;
    void fillRect(const juce::Rectangle<float>& area) override;
    void fillRectList(const juce::RectangleList<float>& areas) override;
    void fillPath(const juce::Path& path, const juce::AffineTransform& transform) override;
    void drawImage(const juce::Image& image, const juce::AffineTransform& transform) override;
    void drawLine(const juce::Line<float>& line) override;
    void setFont(const juce::Font& font) override;
    const juce::Font& getFont() override;
#if JUCE_MAJOR_VERSION >= 8
    float getPhysicalPixelScaleFactor() const override {
        return 1.0F;
    }
    void drawGlyphs(juce::Span<const std::uint16_t> glyphs, juce::Span<const juce::Point<float>> places,
                    const juce::AffineTransform& transform) override;
    std::unique_ptr<juce::ImageType> getPreferredImageTypeForTemporaryImages() const override {
        return std::make_unique<juce::SoftwareImageType>();
    }
    std::uint64_t getFrameId() const override {
        return 0;
    } ///< a page is one frame
#else
    float getPhysicalPixelScaleFactor() override {
        return 1.0F;
    }
    void drawGlyph(int glyph, const juce::AffineTransform& transform) override;
#endif

protected:
    [[nodiscard]] juce::Rectangle<float> onPage(juce::Rectangle<float> area) const;

private:
    struct State {
        juce::AffineTransform transform;
        juce::Rectangle<float> clip; ///< on the page
        juce::String clipId;         ///< empty = the rectangle alone
        juce::FillType fill;
        float opacity = 1.0F;
        juce::Font font = plainFont(1.0F); ///< until one is set
    };

    void put(const juce::Path& path); ///< of the page
    void fillGlyph(const juce::Path& outline, const juce::AffineTransform& transform);
    [[nodiscard]] juce::String fillText() const;

    int width, height;
    std::vector<State> states;
    juce::String body;
    juce::String definitions;
    int clips = 0;
};

} // namespace valveladder
