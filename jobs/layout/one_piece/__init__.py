"""All cuts on one piece: the shortest order, exact without flaws, exact or searched with them."""
