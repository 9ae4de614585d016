"""What hangs together."""

from jobs.packing.joined import Joined


def test_numbers_hang_together_once_a_chain_of_pairs_reaches_all():
    joined = Joined(4)
    for one, other in ((0, 1), (3, 2), (1, 0)):
        joined.join(one, other)
        assert not joined.is_one
    joined.join(0, 3)
    assert joined.is_one
    assert Joined(1).is_one
