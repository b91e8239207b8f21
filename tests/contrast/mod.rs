//! Contrast by WCAG 2.1, for the tests of the themes here and beside them.

/// "Relative luminance" of red, green and blue: 0 is black, 1 is white.
fn luminance(color: (u8, u8, u8)) -> f64 {
    let part = |value: u8| {
        let value = f64::from(value) / 255.0;
        if value <= 0.03928 { value / 12.92 } else { ((value + 0.055) / 1.055).powf(2.4) }
    };
    0.2126 * part(color.0) + 0.7152 * part(color.1) + 0.0722 * part(color.2)
}

/// "Contrast ratio": 1 for the same colour twice, 21 for black on white.
pub fn contrast(one: (u8, u8, u8), other: (u8, u8, u8)) -> f64 {
    let (one, other) = (luminance(one), luminance(other));
    (one.max(other) + 0.05) / (one.min(other) + 0.05)
}
