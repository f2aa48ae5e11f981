//! Names that users give, and other parts of a sentence, in a list.

/// "a, b and c".
pub(crate) fn listed(parts: &[String]) -> String {
    match parts {
        [] => String::new(),
        [only] => only.clone(),
        [first @ .., last] => format!("{} and {last}", first.join(", ")),
    }
}

/// Names with commas between them; where one holds a comma itself, all stand in quotes, so that it is seen where each ends.
pub(crate) fn listed_names<'a>(names: impl IntoIterator<Item = &'a str>) -> String {
    let names: Vec<&str> = names.into_iter().collect();
    if names.len() > 1 && names.iter().any(|name| name.contains(',')) {
        names.iter().map(|name| format!("“{name}”")).collect::<Vec<_>>().join(", ")
    } else {
        names.join(", ")
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_comma_in_a_name_is_no_end() {
        assert_eq!(listed_names(["Star", "Fan"]), "Star, Fan");
        assert_eq!(listed_names(["Star, edge", "Fan"]), "“Star, edge”, “Fan”");
        assert_eq!(listed_names(["Star, edge"]), "Star, edge");
    }
}
