//! Names, numbers and places that are given once, and what of the plan is changed afterwards.

use bothends::command::Want;

use super::support::Site;

fn text(text: &str) -> String {
    text.to_owned()
}

#[test]
fn the_address_on_tags_is_kept_as_it_is_printed() {
    let mut site = Site::mill();
    let set = |address: &str| Want::SetTagAddress {
        address: text(address),
    };
    site.refuses(set(""), "it is so already");
    site.refuses(set("registry.example"), "This is not a web address");
    site.refuses(
        set("https://registry.example/?t"),
        "cannot stand in the address",
    );
    let act = site.does(set(" https://registry.example "));
    let said = |site: &Site| site.registry().job.tag_address.get().cloned();
    assert_eq!(said(&site).as_deref(), Some("HTTPS://REGISTRY.EXAMPLE/"));
    site.refuses(set("https://Registry.example/"), "it is so already");
    site.does(set(""));
    assert_eq!(said(&site).as_deref(), Some(""));
    site.refuses(set(" "), "it is so already");
    site.undoes(act);
}
