//! What stands at the foot of every card: a mark that changes with the rig, the date, the room.

use super::Told;
use crate::card::Foot;

/// Mark, date and room.
pub(super) fn foot(told: &Told<'_>) -> Foot {
    let rig = &told.compiled.rig;
    Foot { mark: mark(&model::text::write(rig)), date: told.date.clone(), room: rig.room.name.clone() }
}

/// Four letters that can be said aloud and change when the text does: a 64-bit FNV-1a hash, letter by letter.
fn mark(written: &str) -> String {
    let mut hash = 0xcbf2_9ce4_8422_2325_u64;
    for byte in written.bytes() {
        hash = (hash ^ u64::from(byte)).wrapping_mul(0x0100_0000_01b3);
    }
    const CONSONANTS: [char; 16] =
        ['B', 'D', 'F', 'G', 'H', 'K', 'L', 'M', 'N', 'P', 'R', 'S', 'T', 'V', 'W', 'Z'];
    const VOWELS: [char; 4] = ['A', 'E', 'I', 'O'];
    let mut out = String::new();
    for place in 0..4 {
        let letters: &[char] = if place % 2 == 0 { &CONSONANTS } else { &VOWELS };
        let count = u64::try_from(letters.len()).unwrap_or(1);
        let letter = usize::try_from(hash % count).unwrap_or(0);
        out.extend(letters.get(letter));
        hash /= count;
        // The low bits of the hash are its weakest: fold the high ones in.
        hash ^= hash >> 29;
    }
    out
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_mark_can_be_said_and_changes_with_the_rig() {
        let (a, b) = (mark("gear MIC = vocal mic"), mark("gear MIC = vocal mic, at 0 1"));
        assert_eq!(a.len(), 4);
        assert_ne!(a, b);
        assert_eq!(a, mark("gear MIC = vocal mic"));
    }
}
