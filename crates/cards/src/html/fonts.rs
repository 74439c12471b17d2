//! The font inside the page, so that it looks the same with no network and no installed font.

/// Latin and Latin extended, as each file's maker split them.
const LATIN: &str = "U+0000-00FF,U+0131,U+0152-0153,U+02BB-02BC,U+02C6,U+02DA,U+02DC,U+0304,U+0308,U+0329,\
                     U+2000-206F,U+20AC,U+2122,U+2191,U+2193,U+2212,U+2215,U+FEFF,U+FFFD";
const EXTENDED: &str = "U+0100-02BA,U+02BD-02C5,U+02C7-02CC,U+02CE-02D7,U+02DD-02FF,U+0304,U+0308,U+0329,\
                        U+1D00-1DBF,U+1E00-1E9F,U+1EF2-1EFF,U+2020,U+20A0-20AB,U+20AD-20C0,U+2113";

/// Weight, style, range, file.
const FILES: [(&str, &str, &str, &[u8]); 7] = [
    ("400", "normal", LATIN, include_bytes!("../../fonts/latin-400.woff2")),
    ("500", "normal", LATIN, include_bytes!("../../fonts/latin-500.woff2")),
    ("700", "normal", LATIN, include_bytes!("../../fonts/latin-700.woff2")),
    ("800", "normal", LATIN, include_bytes!("../../fonts/latin-800.woff2")),
    ("400", "italic", LATIN, include_bytes!("../../fonts/latin-400-italic.woff2")),
    ("400", "normal", EXTENDED, include_bytes!("../../fonts/latin-ext-400.woff2")),
    ("700", "normal", EXTENDED, include_bytes!("../../fonts/latin-ext-700.woff2")),
];

/// `@font-face` rules with the files in them.
pub(super) fn faces() -> String {
    let face = |(weight, style, range, file): &(&str, &str, &str, &[u8])| {
        format!(
            "@font-face{{font-family:\"Atkinson Hyperlegible Next\";font-weight:{weight};font-style:{style};\
             font-display:block;unicode-range:{range};\
             src:url(data:font/woff2;base64,{}) format(\"woff2\")}}\n",
            base64(file)
        )
    };
    FILES.iter().map(face).collect()
}

/// RFC 4648, section 4.
fn base64(bytes: &[u8]) -> String {
    const LETTERS: &[u8; 64] = b"ABCDEFGHIJKLMNOPQRSTUVWXYZabcdefghijklmnopqrstuvwxyz0123456789+/";
    let letter = |six: u32| char::from(LETTERS.get(six as usize & 63).copied().unwrap_or(b'A'));
    let mut out = String::with_capacity(bytes.len().div_ceil(3) * 4);
    for chunk in bytes.chunks(3) {
        let byte = |i: usize| u32::from(chunk.get(i).copied().unwrap_or(0));
        let all = (byte(0) << 16) | (byte(1) << 8) | byte(2);
        for i in 0..4 {
            let spare = i > chunk.len();
            out.push(if spare { '=' } else { letter(all >> (18 - 6 * i)) });
        }
    }
    out
}

#[cfg(test)]
mod tests {
    use super::*;

    /// RFC 4648, section 10: the test vectors.
    #[test]
    fn base64_of_the_standards_own_examples() {
        for (plain, coded) in [
            ("", ""),
            ("f", "Zg=="),
            ("fo", "Zm8="),
            ("foo", "Zm9v"),
            ("foob", "Zm9vYg=="),
            ("fooba", "Zm9vYmE="),
            ("foobar", "Zm9vYmFy"),
        ] {
            assert_eq!(base64(plain.as_bytes()), coded);
        }
    }
}
