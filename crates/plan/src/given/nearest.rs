//! The word a person probably meant.

/// The nearest of `among` to `word`, if any is near enough to be worth offering.
///
/// Case, spaces, `-` and `_` do not count. At most a third of the letters may differ.
pub fn nearest<'a>(word: &str, among: impl IntoIterator<Item = &'a str>) -> Option<&'a str> {
    let wanted = fold(word);
    if wanted.is_empty() || wanted.len() > LONGEST {
        return None;
    }
    among
        .into_iter()
        .map(|candidate| (distance(&wanted, &fold(candidate)), candidate))
        .filter(|(far, candidate)| *far <= allowed(wanted.len().max(fold(candidate).len())))
        .min_by_key(|(far, _)| *far)
        .map(|(_, candidate)| candidate)
}

/// Longer words are no misspelt keys, and comparing them would cost time.
const LONGEST: usize = 60;

fn allowed(length: usize) -> usize {
    (length / 3).clamp(1, 4)
}

fn fold(word: &str) -> Vec<char> {
    word.chars()
        .filter(|c| !matches!(c, ' ' | '-' | '_'))
        .flat_map(char::to_lowercase)
        .take(LONGEST + 1)
        .collect()
}

/// Letters to put in, leave out, replace or swap with their neighbour (Damerau, restricted).
fn distance(a: &[char], b: &[char]) -> usize {
    let mut before: Vec<usize> = Vec::new();
    let mut above: Vec<usize> = (0..=b.len()).collect();
    for (i, x) in a.iter().enumerate() {
        let mut row = vec![i + 1];
        for (j, y) in b.iter().enumerate() {
            let replaced = above[j] + usize::from(x != y);
            let mut least = replaced.min(above[j + 1] + 1).min(row[j] + 1);
            if 0 < i && 0 < j && *x == b[j - 1] && a[i - 1] == *y {
                least = least.min(before[j - 1] + 1);
            }
            row.push(least);
        }
        before = std::mem::replace(&mut above, row);
    }
    above[b.len()]
}

#[cfg(test)]
mod tests {
    use super::*;

    const KEYS: [&str; 4] = ["voltage", "voltage-max", "length", "lengths"];

    #[test]
    fn slips_of_the_hand_are_seen_through() {
        assert_eq!(nearest("votlage", KEYS), Some("voltage"));
        assert_eq!(nearest("Voltage_Max", KEYS), Some("voltage-max"));
        assert_eq!(nearest("lenght", KEYS), Some("length"));
        assert_eq!(nearest("lengths", KEYS), Some("lengths"));
    }

    #[test]
    fn nothing_is_offered_for_another_word() {
        assert_eq!(nearest("colour", KEYS), None);
        assert_eq!(nearest("", KEYS), None);
        assert_eq!(nearest(&"x".repeat(10_000), KEYS), None);
    }

    #[test]
    fn distances_are_those_of_the_definition() {
        let d = |a: &str, b: &str| distance(&fold(a), &fold(b));
        assert_eq!(d("kitten", "sitting"), 3);
        assert_eq!(d("ab", "ba"), 1);
        assert_eq!(d("", "abc"), 3);
    }
}
