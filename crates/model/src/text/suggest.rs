//! The nearest name to one that is not known.

/// Names nearest to `typed`, best first, at most three; only those near enough to be meant.
pub(crate) fn nearest<'a>(typed: &str, names: impl Iterator<Item = &'a str>) -> Vec<&'a str> {
    let typed = crate::fold(typed);
    let mut scored: Vec<(usize, usize, &str)> = names
        .enumerate()
        .filter_map(|(order, name)| {
            let folded = crate::fold(name);
            let score = distance(&typed, &folded, &typed, &folded);
            score.map(|s| (s, order, name))
        })
        .collect();
    scored.sort_unstable();
    scored.into_iter().take(3).map(|(_, _, name)| name).collect()
}

/// Edits from one to the other when few enough; words shared count in favour.
fn distance(a: &str, b: &str, typed: &str, name: &str) -> Option<usize> {
    let a: Vec<char> = a.chars().take(60).collect();
    let b: Vec<char> = b.chars().take(60).collect();
    let mut row: Vec<usize> = (0..=b.len()).collect();
    for (i, ca) in a.iter().enumerate() {
        let mut next = vec![i + 1];
        for (j, cb) in b.iter().enumerate() {
            let swap = row.get(j).copied().unwrap_or(0) + usize::from(ca != cb);
            let skip = row.get(j + 1).copied().unwrap_or(0) + 1;
            let add = next.get(j).copied().unwrap_or(0) + 1;
            next.push(swap.min(skip).min(add));
        }
        row = next;
    }
    let edits = row.last().copied().unwrap_or(0);
    let shared = typed.split(' ').filter(|w| w.len() > 2 && name.split(' ').any(|n| n == *w)).count();
    let near = edits <= 2.max(a.len() / 3);
    if near || shared > 0 { Some((edits * 2).saturating_sub(shared * 8)) } else { None }
}

/// `did you mean "x" or "y"?`, or the names there are, or `otherwise`.
pub(crate) fn did_you_mean<'a>(
    typed: &str,
    names: impl Iterator<Item = &'a str> + Clone,
    otherwise: &str,
) -> String {
    let near = nearest(typed, names.clone());
    if !near.is_empty() {
        return format!("write {}", or(&near));
    }
    let all: Vec<&str> = names.take(13).collect();
    if all.is_empty() || all.len() > 12 {
        otherwise.to_owned()
    } else {
        format!("there are: {}", all.join(", "))
    }
}

/// `"a", "b" or "c"`.
pub(crate) fn or(names: &[&str]) -> String {
    let quoted: Vec<String> = names.iter().map(|n| format!("\"{n}\"")).collect();
    match quoted.split_last() {
        Some((last, rest)) if !rest.is_empty() => format!("{} or {last}", rest.join(", ")),
        Some((last, _)) => last.clone(),
        None => String::new(),
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn slips_of_the_pen_find_their_name() {
        let names = ["MIXER", "PIANO", "LEFT SPEAKER", "RIGHT SPEAKER"];
        assert_eq!(nearest("mixr", names.into_iter()), ["MIXER"]);
        assert_eq!(nearest("speaker", names.into_iter()), ["LEFT SPEAKER", "RIGHT SPEAKER"]);
        assert!(nearest("toaster", names.into_iter()).is_empty());
    }
}
