using RotationStudy.Statistics.Solvers;

namespace RotationStudy.Statistics.Tests.Solvers;

public class SymmetricEigenTests
{
    [Fact]
    public void Two_by_two_by_hand()
    {
        double[] values = SymmetricEigen.Of([2, 1, 1, 2], 2).Eigenvalues;
        Array.Sort(values);
        Close.Relative(1, values[0], 1e-15);
        Close.Relative(3, values[1], 1e-15);
    }

    [Fact]
    public void The_square_root_squares_to_the_matrix()
    {
        Random random = new(4);
        const int N = 12;
        double[] a = [.. Enumerable.Range(0, N * N).Select(_ => random.NextDouble() - 0.5)];
        double[] gram = new double[N * N];
        for (int i = 0; i < N; i++)
        {
            for (int j = 0; j < N; j++)
                gram[(i * N) + j] = CrossProduct.Dot(a.AsSpan(i * N, N), a.AsSpan(j * N, N));
        }
        double[] root = SymmetricEigen.Of(gram, N).Rebuild(Math.Sqrt);
        double[] square = SmallMatrix.Product(root, root, N, N, N);
        Assert.All(Enumerable.Range(0, N * N), i => Assert.True(Math.Abs(square[i] - gram[i]) < 1e-13));
    }

    [Fact]
    public void Small_eigenvalues_of_a_badly_scaled_matrix_keep_their_digits()
    {
        // diag(1e8, 1) [1 .5; .5 1] diag(1e8, 1): product of the eigenvalues is .75e16.
        double[] values = SymmetricEigen.Of([1e16, 0.5e8, 0.5e8, 1], 2).Eigenvalues;
        Close.Relative(0.75, values.Min(), 1e-12);
    }

    [Fact]
    public void Negative_eigenvalues_are_set_to_zero_and_a_definite_matrix_is_left_alone()
    {
        double[] indefinite = [1, 2, 2, 1];
        Assert.True(SmallMatrix.TruncateNegativeEigenvalues(indefinite, 2));
        Assert.All(indefinite, v => Close.Relative(1.5, v, 1e-14));
        double[] definite = [2, 1, 1, 2];
        Assert.False(SmallMatrix.TruncateNegativeEigenvalues(definite, 2));
        Assert.Equal([2.0, 1, 1, 2], definite);
    }

    [Fact]
    public void A_matrix_with_no_number_in_it_is_refused()
        => Assert.Throws<NotConvergedError>(() => SymmetricEigen.Of([double.NaN, 1, 1, double.NaN], 2));
}
