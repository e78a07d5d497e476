//! Laws of the sharing of loads: statics alone says what must come out.

#[cfg(test)]
mod load {
    use locknut_finding::Span;
    use locknut_graph::{At, Load, Pull, Stand, Unshared};
    use locknut_quantity::Exact;
    use proptest::prelude::*;

    fn whole(number: i64) -> Exact {
        Exact::from_integer(number.into())
    }

    fn load(force: i64, at: At, moment: i64, places: &[(i64, i64)]) -> Load {
        let places: Vec<_> = places.iter().map(|(x, y)| (whole(*x), whole(*y))).collect();
        Load {
            pull: Pull::Whole(whole(force), at),
            moment: whole(moment),
            count: u64::try_from(places.len()).unwrap(),
            stand: Stand::Places(places),
            written: String::new(),
            span: Span::default(),
        }
    }

    /// Solves for what each bears from equilibrium and flatness, by another way than the code: least squares by elimination over
    /// the unknown plane `a + b x + c y`.
    fn plane(force: i64, at: (i64, i64), places: &[(i64, i64)]) -> Option<Vec<Exact>> {
        let many = i64::try_from(places.len()).unwrap();
        let sum =
            |of: &dyn Fn(i64, i64) -> i64| places.iter().map(|(x, y)| of(*x, *y)).sum::<i64>();
        // Where the force pulls, from the same corner as the places: their middle and then on. All is taken `many` times.
        let (sx, sy) = (sum(&|x, _| x), sum(&|_, y| y));
        let mut rows = vec![
            [many, sx, sy, force * many],
            [sx, sum(&|x, _| x * x), sum(&|x, y| x * y), force * (sx + at.0 * many)],
            [sy, sum(&|x, y| x * y), sum(&|_, y| y * y), force * (sy + at.1 * many)],
        ]
        .into_iter()
        .map(|row| row.map(whole))
        .collect::<Vec<_>>();
        for at in 0..3 {
            let pivot = (at..3).find(|row| rows[*row][at] != whole(0))?;
            rows.swap(at, pivot);
            for row in 0..3 {
                if row != at {
                    let times = &rows[row][at] / &rows[at][at];
                    let less = rows[at].clone().map(|of| &times * of);
                    rows[row].iter_mut().zip(less).for_each(|(of, less)| *of -= less);
                }
            }
        }
        let [a, b, c] = [0, 1, 2].map(|at| &rows[at][3] / &rows[at][at] / whole(many));
        Some(places.iter().map(|(x, y)| &a + &b * whole(*x) + &c * whole(*y)).collect())
    }

    proptest! {
        #[test]
        fn the_worst_bears_what_a_plane_through_all_of_them_says(
            places in prop::collection::vec((-50i64..50, -50i64..50), 3..9),
            (force, x, y) in (1i64..100, -40i64..40, -40i64..40),
        ) {
            let of = load(force, At::Place(whole(x), whole(y)), 0, &places);
            let wanted = plane(force, (x, y), &places);
            match (of.share(), wanted) {
                (Ok(share), Some(each)) => {
                    prop_assert_eq!(share.all(), each.iter().max().unwrap().clone());
                    if let Some(at) = share.worst {
                        prop_assert_eq!(&each[usize::from(at)], each.iter().max().unwrap());
                    }
                    let all: Exact = each.iter().sum();
                    prop_assert_eq!(all, whole(force));
                }
                // In a line: what pulls along it is shared, and no more.
                (Err(why), None) => prop_assert_eq!(why, Unshared::InLine),
                (Ok(_), None) => {}
                (Err(why), Some(_)) => prop_assert!(false, "{:?}", why),
            }
        }

        /// A ring whose places are known bears no more than one that may be turned anyhow.
        #[test]
        fn on_a_circle_the_worst_turn_is_taken(force in 1i64..100, off in 0i64..40, count in 1i64..10) {
            // The corners of a square on its circle of radius 5: 3-4-5, turned.
            let places = [(3, 4), (-4, 3), (-3, -4), (4, -3)];
            let known = load(force, At::Around(whole(off)), count, &places);
            let ring = Load { stand: Stand::Circle(whole(5)), ..known.clone() };
            let (known, ring) = (known.share().unwrap().all(), ring.share().unwrap().all());
            prop_assert!(known <= &ring * Exact::new(1_000_001.into(), 1_000_000.into()));
            prop_assert!(ring <= known);
        }
    }

    proptest! {
        #![proptest_config(ProptestConfig::with_cases(32))]

        /// Whichever way it tips, no way is worse than what is told, and one is as bad but for rounding.
        #[test]
        fn no_side_is_worse_than_whichever_way(
            places in prop::collection::vec((-50i64..50, -50i64..50), 3..9),
            (force, off) in (1i64..100, 1i64..40),
        ) {
            let Ok(around) = load(force, At::Around(whole(off)), 0, &places).share() else { return Ok(()) };
            let moment = load(0, At::Middle, force * off, &places).share().unwrap();
            prop_assert_eq!(&around.by_tipping, &moment.by_tipping);
            let mut worst = whole(0);
            for turn in 0..36 {
                let (sine, cosine) = locknut_quantity::sine_and_cosine(&(whole(turn) / whole(36)));
                let at = At::Place(whole(off) * cosine, whole(off) * sine);
                worst = worst.max(load(force, at, 0, &places).share().unwrap().all());
            }
            // The sine and the cosine are rounded; of what two turns ten degrees apart leave out, 1/cos 5° tells.
            let told = around.all();
            prop_assert!(worst <= &told * Exact::new(1_000_001.into(), 1_000_000.into()));
            prop_assert!(&told - &around.even <= (&worst - &around.even) * Exact::new(1_004.into(), 1_000.into()));
        }
    }
}
