//! The sizes of a build, held against their budgets.

use std::path::Path;

use crate::failure::{Failure, Outcome};
use crate::settings::{BESIDE_BUDGET, FIRST_LOAD_BUDGET, WHOLE_BUDGET};
use crate::site::{Asset, Part};

/// Prints each file's size and the two sums, and fails where a sum is above its budget.
pub(crate) fn check(folder: &Path, assets: &[Asset]) -> Outcome {
    let mut first = 0;
    let mut whole = 0;
    let mut beside = 0;
    println!("\n     bytes    brotli  file");
    for asset in assets {
        let packed = sent(folder, asset);
        println!("{:>10}{packed:>10}  {}", asset.bytes.len(), asset.name);
        match asset.part {
            Part::First => {
                first += packed;
                whole += packed;
            }
            Part::Later => whole += packed,
            Part::Beside => beside += packed,
            Part::Icon | Part::Worker => {}
        }
    }
    println!();
    let fits = [
        line(
            "first load (page, style, scripts)",
            first,
            FIRST_LOAD_BUDGET,
        ),
        line(
            "the app, kept for offline use before anything else, icons apart",
            whole,
            WHOLE_BUDGET,
        ),
        line(
            "beside it, kept once the app is (the demo job, the papers, the reader of tags)",
            beside,
            BESIDE_BUDGET,
        ),
    ];
    if fits == [true; 3] {
        Ok(())
    } else {
        Err(Failure::new("the build is above its budget"))
    }
}

/// What a host sends to a browser that takes brotli: the compressed form where there is one.
fn sent(folder: &Path, asset: &Asset) -> usize {
    let packed = std::fs::metadata(folder.join(format!("{}.br", asset.name))).ok();
    packed
        .and_then(|file| usize::try_from(file.len()).ok())
        .unwrap_or(asset.bytes.len())
}

fn line(what: &str, bytes: usize, budget: usize) -> bool {
    let fits = bytes <= budget;
    let word = if fits { "within" } else { "ABOVE" };
    println!("{what}: {bytes} bytes brotli, {word} the budget of {budget}");
    fits
}

#[cfg(test)]
mod tests {
    use super::line;

    #[test]
    fn a_budget_may_be_met_but_not_passed() {
        assert!(line("x", 10, 10));
        assert!(!line("x", 11, 10));
    }
}
