//! How many ways lead to the end of a job, where `done` in a block ends it for everybody.

use locknut_tests::mended::checked;

/// Ways, and the fewest and the most acts, of a job with these lines.
fn ways(lines: &str) -> Option<(String, (usize, usize))> {
    let source = format!(
        "model stand {{\n  title \"Stand\"\n}}\nprocedure look on stand {{\n  title \"Look\"\n  crew fitter, helper\n{lines}}}\n"
    );
    let checked = checked(&source);
    assert!(checked.reports.is_empty(), "{:?}", checked.reports);
    let ways = checked.proved.first()?.ways.as_ref()?;
    Some((ways.ways.to_string(), ways.acts))
}

fn told(ways: &str, least: usize, most: usize) -> (String, (usize, usize)) {
    (ways.to_owned(), (least, most))
}

#[test]
fn done_in_a_freed_step_leaves_the_others_out() {
    // Whole: not worn. Or worn, with the other step done ahead of it or left out: nothing is chosen in that.
    let one = "  any order {
    step { observe worn \"Is it worn?\" {
      yes -> done
      no  -> go on
    } }
    step { confirm \"It is clean.\" }
  }
  confirm \"All is well.\"
";
    assert_eq!(ways(one), Some(told("2", 1, 3)));
    // Two questions: both no; the first yes with the second not asked or no; the second yes likewise.
    let two = "  any order {
    step { observe worn \"Is it worn?\" {
      yes -> done
      no  -> go on
    } }
    step { observe loose \"Is it loose?\" {
      yes -> done
      no  -> go on
    } }
  }
  confirm \"All is well.\"
";
    assert_eq!(ways(two), Some(told("5", 1, 3)));
}

#[test]
fn done_beside_somebody_stops_them_where_they_are() {
    // Both no; or worn, with the helper not asked, or having said yes or no.
    let lines = "  together {
    fitter { observe worn \"Is it worn?\" {
      yes -> done
      no  -> go on
    } }
    helper {
      observe loose \"Is it loose?\" {
        yes -> go on noting \"Loose.\"
        no  -> go on
      }
      confirm \"It is clean.\"
    }
  }
";
    assert_eq!(ways(lines), Some(told("5", 1, 3)));
}

#[test]
fn done_at_the_margin_ends_one_way_of_two() {
    let lines = "  observe worn \"Is it worn?\" {
    yes -> done
    no  -> go on
  }
  confirm \"All is well.\"
";
    assert_eq!(ways(lines), Some(told("2", 1, 2)));
}

/// In how many orders.
fn orders(lines: &str) -> Option<String> {
    let source = format!(
        "model stand {{\n  title \"Stand\"\n}}\nprocedure look on stand {{\n  title \"Look\"\n  crew fitter, helper\n{lines}}}\n"
    );
    Some(checked(&source).proved.first()?.ways.as_ref()?.orders.to_string())
}

#[test]
fn orders_inside_of_each_other_are_all_counted() {
    let steps = |names: &[&str]| -> String {
        let step = |name: &&str| format!("step \"{name}\" {{ confirm \"{name}\" }}\n");
        names.iter().map(step).collect::<Vec<_>>().concat()
    };
    // 3! of the outer, 2! of the inner.
    let freed = format!(
        "any order {{ {} step \"C\" {{ any order {{ {} }} }} }}",
        steps(&["A", "B"]),
        steps(&["X", "Y"])
    );
    assert_eq!(orders(&freed), Some("12".to_owned()));
    // 4! / (3! 1!) of the lanes, 3! in one of them.
    let beside = format!(
        "together {{\nfitter {{\nany order {{\n{} }}\n}}\nhelper {{\n{} }}\n}}",
        steps(&["A", "B", "C"]),
        steps(&["X"])
    );
    assert_eq!(orders(&beside), Some("24".to_owned()));
    // 2! and 3! after one another.
    let after = format!(
        "any order {{ {} }}\nany order {{ {} }}",
        steps(&["A", "B"]),
        steps(&["X", "Y", "Z"])
    );
    assert_eq!(orders(&after), Some("12".to_owned()));
}
