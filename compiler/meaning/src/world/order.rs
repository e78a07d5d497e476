//! Declarations in an order in which each comes after what it needs; and circles among them.

/// An order, and the circles that have none.
#[derive(Debug, Default, PartialEq, Eq)]
pub(super) struct Order {
    /// Whatever stands in no circle and leads into none, each after all that it needs.
    pub(super) order: Vec<usize>,
    /// Each circle once, from its first member on.
    pub(super) circles: Vec<Vec<usize>>,
}

/// `needs[i]` lists what `i` needs. Without recursion, so that no chain is too long.
pub(super) fn in_order(needs: &[Vec<usize>]) -> Order {
    let mut left: Vec<usize> = needs.iter().map(Vec::len).collect();
    let mut needed_by: Vec<Vec<usize>> = vec![Vec::new(); needs.len()];
    for (node, needs) in needs.iter().enumerate() {
        for need in needs {
            if let Some(by) = needed_by.get_mut(*need) {
                by.push(node);
            }
        }
    }
    let mut order: Vec<usize> =
        (0..needs.len()).filter(|node| left.get(*node) == Some(&0)).collect();
    let mut at = 0;
    while let Some(node) = order.get(at).copied() {
        at += 1;
        for by in needed_by.get(node).into_iter().flatten() {
            let Some(count) = left.get_mut(*by) else { continue };
            *count -= 1;
            if *count == 0 {
                order.push(*by);
            }
        }
    }
    Order { order, circles: circles(needs, &left) }
}

/// Follows the first need that is left from each node that is left, until it meets itself.
fn circles(needs: &[Vec<usize>], left: &[usize]) -> Vec<Vec<usize>> {
    let is_left = |node: &usize| left.get(*node).is_some_and(|count| *count > 0);
    let mut seen = vec![false; needs.len()];
    let mut circles = Vec::new();
    for start in (0..needs.len()).filter(is_left) {
        let mut path: Vec<usize> = Vec::new();
        let mut at = Some(start);
        while let Some(node) = at {
            if seen.get(node) == Some(&true) {
                if let Some(first) = path.iter().position(|on| *on == node) {
                    circles.push(path.split_off(first));
                }
                break;
            }
            if let Some(seen) = seen.get_mut(node) {
                *seen = true;
            }
            path.push(node);
            at = needs.get(node).and_then(|needs| needs.iter().copied().find(|need| is_left(need)));
        }
    }
    circles
}

#[cfg(test)]
mod tests {
    use super::{Order, in_order};

    #[test]
    fn each_comes_after_what_it_needs() {
        let order = in_order(&[vec![2], vec![], vec![1]]);
        assert_eq!(order, Order { order: vec![1, 2, 0], circles: vec![] });
    }

    #[test]
    fn a_circle_is_told_once_and_what_leads_into_it_is_left_out() {
        let order = in_order(&[vec![1], vec![2], vec![1], vec![]]);
        assert_eq!(order, Order { order: vec![3], circles: vec![vec![1, 2]] });
    }

    #[test]
    fn a_node_that_needs_itself_is_a_circle() {
        assert_eq!(in_order(&[vec![0]]).circles, vec![vec![0]]);
    }

    #[test]
    fn a_long_chain_needs_no_deep_stack() {
        let needs: Vec<Vec<usize>> =
            (0..200_000).map(|node| if node == 0 { vec![] } else { vec![node - 1] }).collect();
        assert_eq!(in_order(&needs).order.len(), 200_000);
    }
}
