//! Which piece is cut from which reel.
//!
//! Fewest reels first; among those the one that leaves the longest single rest, because one long rest is
//! cable and many short ones are scrap. Up to [`EXACT`] pieces every way is tried (with symmetric ones
//! left out); above that the longest piece goes on the fullest reel it fits, which is never more than
//! 11/9 of the least number of reels plus one (Johnson 1973, memory).

/// Pieces up to which the best way is found for certain.
const EXACT: usize = 10;

/// One piece to cut.
pub type Piece = (String, f64);

/// Shares pieces among reels of one length. A piece longer than a reel gets a reel of its own with a
/// negative rest; a check speaks of it.
pub fn share(pieces: &[Piece], reel_mm: f64) -> Vec<Vec<Piece>> {
    let mut order: Vec<Piece> = pieces.to_vec();
    // Stable: equal pieces keep the order of the build.
    order.sort_by(|a, b| b.1.total_cmp(&a.1));
    let first = fullest_fit(&order, reel_mm);
    if order.len() > EXACT {
        return first;
    }
    let mut best = Best { score: score(&first, reel_mm), reels: first };
    let mut open: Vec<Vec<Piece>> = Vec::new();
    place(&order, reel_mm, &mut open, &mut best);
    best.reels
}

/// Number of reels, then the longest rest with its sign turned: smaller is better.
type Score = (usize, f64);

struct Best {
    score: Score,
    reels: Vec<Vec<Piece>>,
}

fn used_mm(reel: &[Piece]) -> f64 {
    reel.iter().map(|p| p.1).sum()
}

fn score(reels: &[Vec<Piece>], reel_mm: f64) -> Score {
    let rest = reels.iter().map(|r| reel_mm - used_mm(r)).fold(f64::MIN, f64::max);
    (reels.len(), -rest)
}

fn better(a: Score, b: Score) -> bool {
    a.0 < b.0 || (a.0 == b.0 && a.1 < b.1 - 1e-9)
}

fn fullest_fit(order: &[Piece], reel_mm: f64) -> Vec<Vec<Piece>> {
    let mut reels: Vec<Vec<Piece>> = Vec::new();
    for piece in order {
        let fits = reels
            .iter_mut()
            .filter(|r| used_mm(r) + piece.1 <= reel_mm)
            .max_by(|a, b| used_mm(a).total_cmp(&used_mm(b)));
        match fits {
            Some(reel) => reel.push(piece.clone()),
            None => reels.push(vec![piece.clone()]),
        }
    }
    reels
}

fn place(rest: &[Piece], reel_mm: f64, open: &mut Vec<Vec<Piece>>, best: &mut Best) {
    if open.len() > best.score.0 {
        return;
    }
    let Some((piece, rest)) = rest.split_first() else {
        let score = score(open, reel_mm);
        if better(score, best.score) {
            *best = Best { score, reels: open.clone() };
        }
        return;
    };
    let mut tried: Vec<f64> = Vec::new();
    for index in 0..open.len() {
        let used = used_mm(&open[index]);
        if used + piece.1 > reel_mm || tried.contains(&used) {
            continue;
        }
        tried.push(used);
        open[index].push(piece.clone());
        place(rest, reel_mm, open, best);
        open[index].pop();
    }
    open.push(vec![piece.clone()]);
    place(rest, reel_mm, open, best);
    open.pop();
}

#[cfg(test)]
mod tests {
    use super::*;
    use proptest::prelude::*;

    fn pieces(lengths: &[f64]) -> Vec<Piece> {
        lengths.iter().enumerate().map(|(i, l)| (i.to_string(), *l)).collect()
    }

    #[test]
    fn greed_would_take_a_third_reel() {
        // The fullest fit puts 6 + 3 on one reel and then needs a third for the last 2; 6 + 2 + 2 and 4 + 3 + 3 fill two.
        let reels = share(&pieces(&[6.0, 4.0, 3.0, 3.0, 2.0, 2.0]), 10.0);
        assert_eq!(reels.len(), 2);
    }

    #[test]
    fn too_long_a_piece_stands_alone() {
        let reels = share(&pieces(&[12.0, 4.0]), 10.0);
        assert_eq!(reels.len(), 2);
    }

    proptest! {
        #![proptest_config(ProptestConfig::with_cases(64))]
        #[test]
        fn every_piece_is_cut_once(lengths in prop::collection::vec(0.1f64..10.0, 0..14)) {
            let given = pieces(&lengths);
            let reels = share(&given, 10.0);
            let mut cut: Vec<Piece> = reels.iter().flatten().cloned().collect();
            cut.sort_by_key(|piece| piece.0.parse::<usize>().unwrap());
            prop_assert_eq!(cut, given);
            for reel in &reels {
                prop_assert!(used_mm(reel) <= 10.0 + 1e-9);
            }
        }
    }
}
